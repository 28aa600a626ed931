#include "marks/shade_ink.h"

#include <algorithm>
#include <cmath>

#include "marks/art.h"

namespace layright {
namespace {
constexpr double kMostShaded = 1e6, kFinest = 4;  // pixels; pixels a point (288 dpi)

/// The mean tint of pixels in RGB with alpha, of which none is strong; else 0.
float faint_all_over(fz_pixmap const& map, float alpha) {
  double sum = 0;
  for (int y = 0; y < map.h; ++y) {
    unsigned char const* p = map.samples + static_cast<std::ptrdiff_t>(y) * map.stride;
    for (int x = 0; x < map.w; ++x, p += map.n) {
      float const tint = static_cast<float>(p[3] - std::min({p[0], p[1], p[2]})) / 255 * alpha;  // colours come times alpha
      if (tint > kMostFaint) return 0;
      sum += tint;
    }
  }
  return static_cast<float>(sum / (static_cast<double>(map.w) * map.h));
}
}  // namespace

ShadeInk look_at_shade(fz_context* ctx, fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params, InkRule rule,
                       ColourTransfer const* transfer, SeenRect const& area, double& budget) {
  ShadeInk result;
  result.area = area;
  result.ink.rows = {{0, 1}};
  result.ink.any = result.ink.all = true;
  result.ink.read = false;
  double const wide = std::max(area.width(), 1e-3), high = std::max(area.height(), 1e-3);
  double const most = std::min(kMostShaded, budget);
  // Each way on its own, so that pixels fit the area and its edges are edges of pixels.
  double const fine = std::min(kFinest, std::sqrt(most / (wide * high)));
  int const columns = std::max(1, static_cast<int>(std::lround(wide * fine))), rows = std::max(1, static_cast<int>(std::lround(high * fine)));
  if (most < 1000 || static_cast<double>(columns) * rows > 4 * kMostShaded) return result;
  budget -= static_cast<double>(columns) * rows;
  double const kx = columns / wide, ky = rows / high;
  fz_matrix const to_pixels = fz_concat(ctm, fz_make_matrix(static_cast<float>(kx), 0, 0, static_cast<float>(ky), static_cast<float>(-area.x0 * kx),
                                                            static_cast<float>(-area.y0 * ky)));
  fz_pixmap* pixels = shade_pixels(ctx, shade, to_pixels, fz_make_irect(0, 0, columns, rows), params);
  if (pixels) {
    if (transfer) transfer->apply(*pixels);
    result.ink = look_at_pixels(*pixels, nullptr, rule, alpha, {.drawn = true});
    result.faint = faint_all_over(*pixels, alpha);
  }
  fz_drop_pixmap(ctx, pixels);
  return result;
}

}  // namespace layright
