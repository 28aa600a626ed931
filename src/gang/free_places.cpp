#include "gang/free_places.h"

#include <algorithm>

namespace layright {
namespace {

std::pair<std::int64_t, std::int64_t> cost_of(UnitRect const& place, std::int64_t width, std::int64_t height, BoxFit fit) {
  auto const across = place.width() - width, up = place.height() - height;
  auto const less = std::min(across, up), more = std::max(across, up);
  switch (fit) {
    case BoxFit::short_side: return {less, more};
    case BoxFit::long_side: return {more, less};
    case BoxFit::area: return {place.width() * place.height() - width * height, less};
    case BoxFit::low: break;
  }
  return {place.y0 + height, place.x0};
}

}  // namespace

BoxWays ways_of(GangBox const& box, BoxStance stance, std::int64_t sheet_width, std::int64_t sheet_height) {
  if (!box.may_turn || box.width == box.height) return {true, false};
  bool const turn = (box.width > box.height) == (stance == BoxStance::upright);
  auto const width = turn ? box.height : box.width, height = turn ? box.width : box.height;
  if (stance == BoxStance::free || width > sheet_width || height > sheet_height) return {true, true};
  return {!turn, turn};
}

FreePlaces::FreePlaces(std::int64_t width, std::int64_t height, bool straight) : free_{{0, 0, width, height}}, straight_(straight) {}

std::optional<FreePlaces::Place> FreePlaces::best(GangBox const& box, BoxFit fit, BoxWays ways) const {
  std::optional<Place> best;
  for (std::size_t i = 0; i < free_.size(); ++i)
    for (bool const turned : {false, true}) {
      if (!(turned ? ways.turned : ways.as_given)) continue;
      auto const width = turned ? box.height : box.width, height = turned ? box.width : box.height;
      auto const& place = free_[i];
      if (width > place.width() || height > place.height()) continue;
      auto const cost = cost_of(place, width, height, fit);
      if (best && best->cost <= cost) continue;
      best = Place{i, {place.x0, place.y0, place.x0 + width, place.y0 + height}, turned, cost};
    }
  return best;
}

void FreePlaces::take(Place const& place) {
  auto const& used = place.where;
  used_ += used.width() * used.height();
  if (straight_) {
    auto const whole = free_[place.place];
    free_[place.place] = free_.back();
    free_.pop_back();
    part(whole, used);
    return;
  }
  parts_.clear();
  std::size_t first_new = 0;
  for (auto const f : free_) {
    if (used.x0 >= f.x1 || used.x1 <= f.x0 || used.y0 >= f.y1 || used.y1 <= f.y0) {
      free_[first_new++] = f;
      continue;
    }
    if (used.x0 > f.x0) parts_.push_back({f.x0, f.y0, used.x0, f.y1});
    if (used.x1 < f.x1) parts_.push_back({used.x1, f.y0, f.x1, f.y1});
    if (used.y0 > f.y0) parts_.push_back({f.x0, f.y0, f.x1, used.y0});
    if (used.y1 < f.y1) parts_.push_back({f.x0, used.y1, f.x1, f.y1});
  }
  free_.resize(first_new);
  free_.insert(free_.end(), parts_.begin(), parts_.end());
  keep_largest(first_new);
}

/// One cut runs through the place: the one that leaves the larger piece of film.
void FreePlaces::part(UnitRect place, UnitRect const& used) {
  auto const right = place.x1 - used.x1, above = place.y1 - used.y1;
  bool const across = right * place.height() < above * place.width();  // the cut runs from left to right
  UnitRect const beside{used.x1, place.y0, place.x1, across ? used.y1 : place.y1};
  UnitRect const over{place.x0, used.y1, across ? place.x1 : used.x1, place.y1};
  for (auto const& rest : {beside, over})
    if (rest.width() > 0 && rest.height() > 0) free_.push_back(rest);
}

/// Those from `first_new` on that lie in another go; older ones lie in none, and none of them lies in a new one.
void FreePlaces::keep_largest(std::size_t first_new) {
  for (std::size_t i = first_new; i < free_.size();) {
    bool inside = false;
    for (std::size_t j = 0; j < free_.size() && !inside; ++j)
      inside = j != i && free_[j].contains(free_[i]) && !(free_[i].contains(free_[j]) && j > i);
    if (inside) free_.erase(free_.begin() + static_cast<std::ptrdiff_t>(i));
    else ++i;
  }
}

}  // namespace layright
