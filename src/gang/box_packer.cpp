#include "gang/box_packer.h"

#include <algorithm>
#include <array>

namespace layright {

std::size_t PackedBoxes::emptiest() const { return static_cast<std::size_t>(std::ranges::min_element(used) - used.begin()); }

std::optional<PackedBoxes> pack_boxes(GangBoxes const& given, BoxOrder const& how, int most_sheets) {
  PackedBoxes out;
  out.spots.resize(given.boxes.size());
  std::vector<FreePlaces> open;
  std::int64_t const whole = given.width * given.height;
  for (auto const i : how.order) {
    auto const& box = given.boxes[i];
    auto const ways = ways_of(box, how.stance, given.width, given.height);
    std::optional<FreePlaces::Place> best;
    std::size_t sheet = open.size();
    for (std::size_t s = 0; s < open.size(); ++s) {
      if (open[s].used() + box.area() > whole) continue;
      auto const place = open[s].best(box, how.fit, ways);
      if (!place || (best && best->cost <= place->cost)) continue;
      best = place;
      sheet = s;
      if (how.first_sheet) break;
    }
    if (!best) {
      if (static_cast<int>(open.size()) == most_sheets) return std::nullopt;
      open.emplace_back(given.width, given.height, given.straight || how.straight);
      best = open.back().best(box, how.fit, ways);
    }
    open[sheet].take(*best);
    out.spots[i] = {static_cast<int>(sheet), best->where.x0, best->where.y0, best->turned};
  }
  for (auto const& sheet : open) out.used.push_back(sheet.used());
  return out;
}

bool pack_one_sheet(GangBoxes const& given, BoxOrder const& how, std::int64_t width, std::int64_t height, std::vector<BoxSpot>& spots) {
  FreePlaces places(width, height, given.straight || how.straight);
  auto found = spots;
  for (auto const i : how.order) {
    auto const place = places.best(given.boxes[i], how.fit, ways_of(given.boxes[i], how.stance, width, height));
    if (!place) return false;
    places.take(*place);
    found[i] = {spots[i].sheet, place->where.x0, place->where.y0, place->turned};
  }
  spots = std::move(found);
  return true;
}

std::vector<std::size_t> sorted_boxes(GangBoxes const& given, std::vector<std::size_t> which, int key) {
  auto const measure = [&](std::size_t i) {
    auto const& b = given.boxes[i];
    std::array const measures{b.area(), std::max(b.width, b.height), b.height, b.width + b.height};
    return std::pair(measures[static_cast<std::size_t>(key)], b.area());
  };
  std::ranges::stable_sort(which, [&](std::size_t a, std::size_t b) { return measure(a) > measure(b); });
  return which;
}

}  // namespace layright
