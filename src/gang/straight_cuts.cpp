#include "gang/straight_cuts.h"

#include <algorithm>

namespace layright {
namespace {

using Boxes = std::vector<Rect<SheetSpace>>;

constexpr double kTouch = 1e-6;  // points: boxes that touch do not overlap

/// A cut through all boxes of one direction, with what it parts.
struct Parted {
  double at;
  Boxes before, after;
};

std::optional<Parted> part(Boxes boxes, bool across) {
  auto const low = [&](auto const& b) { return across ? b.y0 : b.x0; };
  auto const high = [&](auto const& b) { return across ? b.y1 : b.x1; };
  std::ranges::sort(boxes, [&](auto const& a, auto const& b) { return low(a) < low(b); });
  double reached = high(boxes.front());
  for (std::size_t i = 1; i < boxes.size(); ++i) {
    if (low(boxes[i]) >= reached - kTouch) {
      auto const middle = boxes.begin() + static_cast<std::ptrdiff_t>(i);
      return Parted{(low(boxes[i]) + reached) / 2, Boxes(boxes.begin(), middle), Boxes(middle, boxes.end())};
    }
    reached = std::max(reached, high(boxes[i]));
  }
  return std::nullopt;
}

void cut(Boxes const& boxes, Rect<SheetSpace> const& sheet, std::vector<ThroughCut>& cuts) {
  if (boxes.size() < 2) return;
  for (bool const across : {true, false}) {
    auto const parted = part(boxes, across);
    if (!parted) continue;
    cuts.push_back(across ? ThroughCut{true, parted->at, sheet.x0, sheet.x1} : ThroughCut{false, parted->at, sheet.y0, sheet.y1});
    auto before = sheet, after = sheet;
    (across ? before.y1 : before.x1) = parted->at;
    (across ? after.y0 : after.x0) = parted->at;
    cut(parted->before, before, cuts);
    cut(parted->after, after, cuts);
    return;
  }
}

}  // namespace

std::vector<ThroughCut> straight_cuts(Boxes const& boxes, Rect<SheetSpace> const& sheet) {
  std::vector<ThroughCut> cuts;
  cut(boxes, sheet, cuts);
  return cuts;
}

}  // namespace layright
