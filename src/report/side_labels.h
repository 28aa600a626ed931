// Where the numbers of a drawing stand: in the margins at its left and right, never on it, each with a line to its place. Values only.
#pragma once
#include <cstddef>
#include <vector>

namespace layright {

/// Points, y down.
struct DrawnRect {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  bool meets(DrawnRect const& o) const { return x0 < o.x1 && o.x0 < x1 && y0 < o.y1 && o.y0 < y1; }
};

struct SideLabel {
  std::size_t place = 0;  // which of the places it is for
  DrawnRect box;          // beside the drawing
  double x0 = 0, y0 = 0;  // the line's end at the label
  double x1 = 0, y1 = 0;  // and at the place, on its rim
};

/// Square labels, `side` points wide and `gap` away from `drawing`. Each is beside its place where there is room, else as near as the others
/// let it be; none meets another. Places that come first are served first: where both margins are full the rest go without.
std::vector<SideLabel> side_labels(DrawnRect const& drawing, double gap, double side, std::vector<DrawnRect> const& places);

}  // namespace layright
