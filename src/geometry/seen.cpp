#include "geometry/seen.h"

namespace layright {

Matrix<PageSpace, SeenSpace> page_to_seen(Rect<PageSpace> const& crop, Turn clockwise, double user_unit) {
  auto const turned = rotation<PageSpace, SeenSpace>(inverse(clockwise));
  auto const where = turned.apply(crop);
  return then(then(turned, translation<SeenSpace>(-where.x0, -where.y0)), scaling<SeenSpace>(user_unit));
}

SeenSize seen_size(Rect<PageSpace> const& crop, Turn clockwise, double user_unit) {
  double const w = crop.width() * user_unit, h = crop.height() * user_unit;
  return swaps_sides(clockwise) ? SeenSize{h, w} : SeenSize{w, h};
}

}  // namespace layright
