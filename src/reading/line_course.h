// The course that a line of letters takes: level, slanted, or bent as on an arc.
#pragma once
#include <cmath>
#include <vector>

namespace layright {

struct CoursePoint {
  double x, y;
};

/// y = offset + slope (x - from) + bend (x - from)^2, in pixels.
struct Course {
  double from = 0, offset = 0, slope = 0, bend = 0;
  double y(double x) const { return offset + (slope + bend * (x - from)) * (x - from); }
  double rise(double x) const { return slope + 2 * bend * (x - from); }
  /// Along the course between two x.
  double length(double x0, double x1) const;
  /// The x of the nearest point of the course, to first order.
  double foot(CoursePoint p) const;
  /// Signed distance from the course, positive towards larger y.
  double away(CoursePoint p) const;
};

/// A piece of the line about as long as it is high: its middle, and the extents of its ink.
struct LinePiece {
  double x, top, bottom;
};

/// The course through the middles of pieces in order of x; `size` is a letter's height. Bent only where neither the upper nor the lower
/// edges lie on a straight line.
Course course_through(std::vector<LinePiece> const& pieces, double size);

}  // namespace layright
