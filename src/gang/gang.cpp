#include "gang/gang.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <numeric>

#include "gang/bound.h"
#include "gang/box_packer.h"
#include "gang/lots.h"
#include "gang/shapes.h"

namespace layright {
namespace {

struct Arranged {
  BoxOrder order;
  PackedBoxes packed;
};

/// Fewer sheets; of as many, less on the emptiest.
bool better(PackedBoxes const& a, PackedBoxes const& b) {
  if (a.sheets() != b.sheets()) return a.sheets() < b.sheets();
  return a.used[a.emptiest()] < b.used[b.emptiest()];
}

std::vector<std::size_t> all_of(GangBoxes const& boxes) {
  std::vector<std::size_t> all(boxes.boxes.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return all;
}

/// By each key, each fit and each stance; where cuts are free, also as if they were straight, which finds plain rows and columns that the other
/// way breaks up.
std::vector<BoxOrder> first_orders(GangBoxes const& boxes, std::vector<std::size_t> const& which) {
  int const stances = std::ranges::any_of(boxes.boxes, &GangBox::may_turn) ? kStances : 1;
  std::vector<BoxOrder> orders;
  for (int key = 0; key < kSortKeys; ++key) {
    auto const sorted = sorted_boxes(boxes, which, key);
    for (int fit = 0; fit < kFits; ++fit)
      for (int stance = 0; stance < stances; ++stance)
        for (bool const straight : {false, true})
          if (!straight || !boxes.straight) orders.push_back({sorted, static_cast<BoxFit>(fit), true, static_cast<BoxStance>(stance), straight});
  }
  return orders;
}

Arranged first_arrangement(GangBoxes const& boxes) {
  Arranged best;
  for (auto order : first_orders(boxes, all_of(boxes)))
    for (bool const first : {true, false}) {
      order.first_sheet = first;
      bool const none = best.packed.used.empty();
      auto packed = pack_boxes(boxes, order, none ? std::numeric_limits<int>::max() : best.packed.sheets());
      if (packed && (none || better(*packed, best.packed))) best = {order, std::move(*packed)};
    }
  return best;
}

/// What lay on a sheet that was not filled comes first, in the same order; a few others change their places.
BoxOrder next_order(Arranged const& from, Lots& lots) {
  auto const sheets = static_cast<std::size_t>(from.packed.sheets());
  auto const sheet = static_cast<int>(lots.below(4) == 0 ? lots.below(sheets) : from.packed.emptiest());
  BoxOrder next = from.order;
  std::stable_partition(next.order.begin(), next.order.end(), [&](std::size_t i) { return from.packed.spots[i].sheet == sheet; });
  for (std::size_t swaps = lots.below(6); swaps > 0; --swaps)
    std::swap(next.order[lots.below(next.order.size())], next.order[lots.below(next.order.size())]);
  next.fit = static_cast<BoxFit>(lots.below(kFits));
  next.first_sheet = lots.below(3) != 0;
  return next;
}

/// Arrangements that are tried: fewer for many boxes, so that the time stays bounded, and fewer where no sheet can be saved any more.
int tries(GangRules const& rules, std::size_t boxes, bool least) {
  constexpr int kMostWork = 300000;
  return std::min(rules.effort, kMostWork / static_cast<int>(boxes)) / (least ? 4 : 1);
}

Arranged best_arrangement(GangBoxes const& boxes, GangRules const& rules, int bound) {
  Arranged best = first_arrangement(boxes), current = best;
  Lots lots;
  for (int i = 0; i < tries(rules, boxes.boxes.size(), best.packed.sheets() <= bound) && best.packed.sheets() > 0; ++i) {
    auto order = next_order(current, lots);
    auto packed = pack_boxes(boxes, order, current.packed.sheets());
    if (!packed || better(current.packed, *packed)) continue;
    current = {std::move(order), std::move(*packed)};
    if (better(current.packed, best.packed)) best = current;
  }
  return best;
}

/// The emptiest sheet becomes the last.
void order_sheets(PackedBoxes& packed) {
  std::vector<std::size_t> sheets(packed.used.size());
  std::iota(sheets.begin(), sheets.end(), std::size_t{0});
  std::ranges::stable_sort(sheets, [&](std::size_t a, std::size_t b) { return packed.used[a] > packed.used[b]; });
  std::vector<int> number(sheets.size());
  for (std::size_t i = 0; i < sheets.size(); ++i) number[sheets[i]] = static_cast<int>(i);
  for (auto& spot : packed.spots) spot.sheet = number[static_cast<std::size_t>(spot.sheet)];
  std::ranges::sort(packed.used, std::greater());
}

/// How far the boxes of the last sheet reach, upward or across.
std::int64_t far_end(GangBoxes const& boxes, std::vector<std::size_t> const& which, std::vector<BoxSpot> const& spots, bool upward) {
  std::int64_t far = 0;
  for (auto const i : which) {
    auto const& box = boxes.boxes[i];
    auto const& spot = spots[i];
    far = std::max(far, upward ? spot.y + (spot.turned ? box.width : box.height) : spot.x + (spot.turned ? box.height : box.width));
  }
  return far;
}

/// Pushed together upward or across, as far as it goes.
std::vector<BoxSpot> pushed(GangBoxes const& boxes, std::vector<std::size_t> const& which, std::vector<BoxSpot> spots, bool upward) {
  auto const orders = first_orders(boxes, which);
  for (bool closer = true; closer;) {
    closer = false;
    auto const far = far_end(boxes, which, spots, upward) - 1;
    for (auto order = orders.begin(); order != orders.end() && !closer; ++order)
      closer = pack_one_sheet(boxes, *order, upward ? boxes.width : far, upward ? far : boxes.height, spots);
  }
  return spots;
}

/// What is left of the last sheet is one block, as large as can be.
void gather_last(GangBoxes const& boxes, PackedBoxes& packed) {
  std::vector<std::size_t> which;
  for (std::size_t i = 0; i < packed.spots.size(); ++i)
    if (packed.spots[i].sheet == packed.sheets() - 1) which.push_back(i);
  auto up = pushed(boxes, which, packed.spots, true), across = pushed(boxes, which, packed.spots, false);
  auto const left_up = (boxes.height - far_end(boxes, which, up, true)) * boxes.width;
  auto const left_across = (boxes.width - far_end(boxes, which, across, false)) * boxes.height;
  packed.spots = left_up >= left_across ? std::move(up) : std::move(across);
}

}  // namespace

bool fits_sheet(GangPiece const& piece, GangRules const& rules) {
  auto const boxes = boxes_of({piece}, rules);
  auto const& box = boxes.boxes.front();
  return (box.width <= boxes.width && box.height <= boxes.height) || (box.may_turn && box.height <= boxes.width && box.width <= boxes.height);
}

std::optional<GangLayout> arrange_gang(std::vector<GangPiece> const& pieces, GangRules const& rules) {
  if (!std::ranges::all_of(pieces, [&](auto const& piece) { return fits_sheet(piece, rules); })) return std::nullopt;
  GangLayout layout;
  if (pieces.empty()) return layout;
  auto const boxes = boxes_of(pieces, rules);
  layout.bound = fewest_sheets(boxes);
  auto packed = best_arrangement(boxes, rules, layout.bound).packed;
  order_sheets(packed);
  gather_last(boxes, packed);
  layout.sheets = packed.sheets();
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    auto const& spot = packed.spots[i];
    layout.slots.push_back({i, spot.sheet, static_cast<double>(spot.x) / kUnitsAPoint, static_cast<double>(spot.y) / kUnitsAPoint,
                            spot.turned ? Turn::quarter : Turn::none});
  }
  bool const by_shape = rules.cuts == Cuts::shape && std::ranges::all_of(pieces, [](auto const& piece) { return piece.shape != nullptr; });
  if (!by_shape) return layout;
  if (auto shaped = arrange_shapes(pieces, rules); shaped && shaped->sheets < layout.sheets) layout = std::move(*shaped);
  layout.bound = fewest_sheets_of_shapes(pieces, rules);  // that of the boxes does not bind outlines
  return layout;
}

}  // namespace layright
