// A page's picture, as printed, of the area that holds its ink: what letters are read from.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"

struct fz_context;
struct fz_page;

namespace layright {

/// Eight-bit red, green and blue, row by row from the top, no padding.
struct PagePicture {
  int width = 0, height = 0;
  double dpi = 0;        // pixels to the inch on paper
  Rect<SeenSpace> area;  // what it shows, with a rim around the ink
  std::vector<std::uint8_t> rgb;
  std::vector<std::uint8_t> alpha;  // one byte a pixel where the picture is clear; else empty: opaque, on white

  /// Where a rectangle of pixels (rows counted from the top) lies on the page.
  Rect<SeenSpace> on_page(double x0, double y0, double x1, double y1) const {
    double const k = 72.0 / dpi;
    return {area.x0 + x0 * k, area.y1 - y1 * k, area.x0 + x1 * k, area.y1 - y0 * k};
  }
};

/// Pixels to the inch that suit letters on an area of this size: as many as the budget of pixels allows, kLeastDpi to kMostDpi.
double dpi_for_letters(Rect<SeenSpace> const& ink);
inline constexpr double kLeastDpi = 36, kMostDpi = 300, kMostPixels = 4e6;

/// Whether live text is drawn. Letters of a Type 3 font that bring their own colours are drawn either way: they are paths and pictures.
enum class LiveText { drawn, left_out };

/// Draws what the page prints inside `ink` (seen space; a rim is added), with annotations and layers as when printed. Nothing where the
/// library fails or the area is empty. `clear`: on nothing instead of white. Throws nothing. The caller's limits on time and memory hold.
std::optional<PagePicture> draw_page(fz_context* library, fz_page* page, Rect<SeenSpace> const& ink, double dpi, bool clear = false,
                                     LiveText text = LiveText::drawn);

/// Makes a clear picture opaque: on the grey that stands out best from what is opaque in it, so that white letters show as black ones do.
void lay_on_ground(PagePicture& picture);

}  // namespace layright
