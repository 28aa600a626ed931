// From a page's user space to what a viewer shows of it.
#pragma once
#include "geometry/matrix.h"
#include "geometry/space.h"

namespace layright {

struct SeenSize {
  double width = 0, height = 0;  // points on paper
  Rect<SeenSpace> rect() const { return {0, 0, width, height}; }
};

/// `crop` in user units, any origin; `clockwise` is the file's Rotate as a turn counted clockwise (ISO 32000-1, Table 30);
/// `user_unit` is the size of a unit in points, > 0. The lower left of what is seen lands on the origin.
Matrix<PageSpace, SeenSpace> page_to_seen(Rect<PageSpace> const& crop, Turn clockwise, double user_unit);
SeenSize seen_size(Rect<PageSpace> const& crop, Turn clockwise, double user_unit);

}  // namespace layright
