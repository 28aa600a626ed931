#include "job/tile_marks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace layright {
namespace {

constexpr double kAway = 3, kCutLength = 9, kLabelHeight = 7;  // points
static_assert(kAway + kCutLength + kMarkWidth < kTileRim);
static_assert(kAway + kLabelHeight + kMarkWidth < kTileRim);

struct CutEnd {
  Point<SeenSpace> at;  // on the edge of what is shown
  double out_x, out_y;  // outward
};

/// Both ends of each cut that the part has.
std::vector<CutEnd> cut_ends(Tile const& tile, Rect<SeenSpace> const& art) {
  std::vector<CutEnd> ends;
  auto const& cut = tile.between_cuts;
  auto const& area = tile.area;
  auto const across = [&](bool there, double x) {
    if (there) ends.insert(ends.end(), {{{x, area.y0}, 0, -1}, {{x, area.y1}, 0, 1}});
  };
  auto const along = [&](bool there, double y) {
    if (there) ends.insert(ends.end(), {{{area.x0, y}, -1, 0}, {{area.x1, y}, 1, 0}});
  };
  across(cut.x0 > art.x0, cut.x0);
  across(cut.x1 < art.x1, cut.x1);
  along(cut.y0 > art.y0, cut.y0);
  along(cut.y1 < art.y1, cut.y1);
  return ends;
}

SheetMark cut_mark(CutEnd const& end, Matrix<SeenSpace, SheetSpace> const& m) {
  auto const from = m.apply(end.at), beyond = m.apply(Point<SeenSpace>{end.at.x + end.out_x, end.at.y + end.out_y});
  double const length = std::hypot(beyond.x - from.x, beyond.y - from.y);
  double const x = (beyond.x - from.x) / length, y = (beyond.y - from.y) / length;
  double const far = kAway + kCutLength;
  return {{{{from.x + kAway * x, from.y + kAway * y}, {from.x + far * x, from.y + far * y}}}};
}

bool has_room(SheetMark const& mark, Rect<SheetSpace> const& live, std::vector<SheetMark> const& others) {
  auto const place = mark.extents();
  return live.contains(place) &&
         std::ranges::none_of(others, [&](SheetMark const& other) { return intersection(place, other.extents().grown(1)).has_value(); });
}

/// Beside the middle of a side of `box`: below it, above it, or turned on its left and right.
std::array<SheetMark, 4> label_places(std::string const& text, Rect<SheetSpace> const& box, bool mirrored) {
  double const wide = label_width(text, kLabelHeight);
  auto const middle = box.centre();
  SheetMark flat = label_mark(text, {-wide / 2, 0}, kLabelHeight);
  if (mirrored) flat = moved(flat, reversal<SheetSpace>());  // whoever reverses later makes it readable
  auto const at = [](double x, double y) { return translation<SheetSpace>(x, y); };
  auto const turned = then(translation<SheetSpace>(0, -kLabelHeight / 2), rotation<SheetSpace>(Turn::quarter));
  double const gap = kAway + kMarkWidth / 2;
  return {moved(flat, at(middle.x, box.y0 - gap - kLabelHeight)), moved(flat, at(middle.x, box.y1 + gap)),
          moved(flat, then(turned, at(box.x0 - gap - kLabelHeight / 2, middle.y))),
          moved(flat, then(turned, at(box.x1 + gap + kLabelHeight / 2, middle.y)))};
}

}  // namespace

std::vector<SheetMark> tile_marks(Tile const& tile, Rect<SeenSpace> const& art, Placement const& placement, Rect<SheetSpace> const& live,
                                  TileMarksWanted const& wanted) {
  std::vector<SheetMark> marks;
  if (wanted.cuts)
    for (auto const& end : cut_ends(tile, art))
      if (auto mark = cut_mark(end, placement.matrix); has_room(mark, live, {})) marks.push_back(std::move(mark));
  if (wanted.label.empty()) return marks;
  for (auto& label : label_places(wanted.label, placement.matrix.apply(tile.area), placement.reversed_later)) {
    if (!has_room(label, live, marks)) continue;
    marks.push_back(std::move(label));
    break;
  }
  return marks;
}

}  // namespace layright
