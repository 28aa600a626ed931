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

/// A label stands for all places of one finding on its side.
struct SideLabel {
  struct Line {
    double x0 = 0, y0 = 0;  // its end at the label
    double x1 = 0, y1 = 0;  // and at the place, on its rim
  };
  std::size_t finding = 0, count = 0;  // which, and how many places it stands for
  bool right = false;                  // in the right margin
  DrawnRect box;                       // beside the drawing
  std::vector<Line> lines;             // to the places nearest to this margin, kMostLines at most
};
inline constexpr std::size_t kMostLines = 3;

/// Square labels, `side` points wide and `gap` away from `drawing`, one for the places of each finding at its left and one at its right. Each is beside
/// its places where there is room, else as near as the others let it be; none meets another. Findings that come first are served first: where both
/// margins are full the rest go without.
std::vector<SideLabel> side_labels(DrawnRect const& drawing, double gap, double side, std::vector<std::vector<DrawnRect>> const& findings);

}  // namespace layright
