#include "marks/shade_ink.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {
constexpr double kMostAtOnce = 1e6, kFinest = 4;  // pixels; pixels a point (288 dpi)
}

ShadeInk look_at_shade(fz_context* ctx, fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params, InkRule rule,
                       Box const& area, double& budget) {
  ShadeInk result;
  result.area = area;
  result.ink.rows = {{0, 1}};
  result.ink.any = result.ink.all = true;
  result.ink.read = false;
  double const wide = std::max(area.width(), 1e-3), high = std::max(area.height(), 1e-3);
  double const most = std::min(kMostAtOnce, budget);
  // Each way on its own, so that pixels fit the area and its edges are edges of pixels.
  double const fine = std::min(kFinest, std::sqrt(most / (wide * high)));
  int const columns = std::max(1, static_cast<int>(std::lround(wide * fine))), rows = std::max(1, static_cast<int>(std::lround(high * fine)));
  if (most < 1000 || static_cast<double>(columns) * rows > 4 * kMostAtOnce) return result;
  budget -= static_cast<double>(columns) * rows;
  double const kx = columns / wide, ky = rows / high;
  fz_matrix const to_pixels = fz_concat(ctm, fz_make_matrix(static_cast<float>(kx), 0, 0, static_cast<float>(ky),
                                                            static_cast<float>(-area.x0 * kx), static_cast<float>(-area.y0 * ky)));
  fz_pixmap* pixels = shade_pixels(ctx, shade, to_pixels, fz_make_irect(0, 0, columns, rows), params);
  if (pixels) result.ink = look_at_pixels(*pixels, nullptr, rule, alpha, {.drawn = true});
  fz_drop_pixmap(ctx, pixels);
  return result;
}

}  // namespace layright
