// What is drawn on a sheet beside the art: marks to cut by and labels, in thin black lines.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

/// In points: thinner lines may not print, and would not hold on the film (Limits::line_thin).
inline constexpr double kMarkWidth = 0.5;

/// One stroke of the pen, which may leave the sheet in between: a mark to cut by, or a label.
struct SheetMark {
  std::vector<std::vector<Point<SheetSpace>>> lines;
  /// With the width of its lines.
  Rect<SheetSpace> extents() const;
};

/// Up to eight marks, which go on outward from the sides of `box` at its corners: they begin `away` points from it and are `length` long.
std::vector<SheetMark> corner_marks(Rect<SheetSpace> const& box, double away, double length);

/// `text` in letters that are lines, `height` points high, its lower left corner at `at`. Lower case is written as upper case; what has no
/// shape here, as a dash.
SheetMark label_mark(std::string_view text, Point<SheetSpace> at, double height);
/// As wide as label_mark makes it, without the width of its lines.
double label_width(std::string_view text, double height);

SheetMark moved(SheetMark mark, Matrix<SheetSpace, SheetSpace> const& by);

/// Operators that draw them, each as one path.
std::string mark_operators(std::span<SheetMark const> marks);

}  // namespace layright
