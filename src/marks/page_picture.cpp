// fz_try is setjmp: nothing with a destructor lives inside it.
#include "marks/page_picture.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "marks/page_canvas.h"

namespace layright {
namespace {

constexpr int kRim = 8;                 // pixels around the ink, so that no letter touches the picture's edge

/// On white, or on nothing, with alpha. May throw through the library.
fz_pixmap* draw(fz_context* c, fz_page* page, CanvasFrame const& frame, bool clear) {
  fz_pixmap* pixmap = nullptr;
  fz_var(pixmap);
  fz_try(c) {
    pixmap = fz_new_pixmap_with_bbox(c, fz_device_rgb(c), fz_make_irect(0, 0, frame.width, frame.height), nullptr, clear ? 1 : 0);
    if (clear) fz_clear_pixmap(c, pixmap);
    else fz_clear_pixmap_with_value(c, pixmap, 255);
    draw_on_canvas(c, page, frame, pixmap);
  }
  fz_catch(c) {
    fz_drop_pixmap(c, pixmap);
    fz_rethrow(c);
  }
  return pixmap;
}

/// Rows as the library has them: straight colours, then alpha.
void take_apart(fz_pixmap const& pixmap, PagePicture& picture) {
  auto const pixels = static_cast<std::size_t>(pixmap.w) * static_cast<std::size_t>(pixmap.h);
  picture.rgb.reserve(pixels * 3);
  picture.alpha.reserve(pixels);
  for (int y = 0; y < pixmap.h; ++y) {
    unsigned char const* p = pixmap.samples + y * pixmap.stride;
    for (int x = 0; x < pixmap.w; ++x, p += 4) {
      unsigned const alpha = p[3];
      for (int i = 0; i < 3; ++i) picture.rgb.push_back(static_cast<std::uint8_t>(alpha == 0 ? 0 : std::min(255U, (p[i] * 255U + alpha / 2) / alpha)));
      picture.alpha.push_back(static_cast<std::uint8_t>(alpha));
    }
  }
}

}  // namespace

double dpi_for_letters(Rect<SeenSpace> const& ink) {
  double const square_inches = std::max(ink.area(), 1.0) / (72.0 * 72.0);
  return std::clamp(std::sqrt(kMostPixels / square_inches), kLeastDpi, kMostDpi);
}

std::optional<PagePicture> draw_page(fz_context* c, fz_page* page, Rect<SeenSpace> const& ink, double dpi, bool clear) {
  if (!ink.finite() || !(dpi > 0)) return std::nullopt;
  CanvasFrame frame{};
  fz_pixmap* pixmap = nullptr;
  fz_var(pixmap);
  fz_try(c) {
    frame = canvas_frame(c, page, ink, dpi, kRim);
    pixmap = draw(c, page, frame, clear);
  }
  fz_catch(c) pixmap = nullptr;
  if (!pixmap) return std::nullopt;
  PagePicture picture;
  picture.width = pixmap->w;
  picture.height = pixmap->h;
  picture.dpi = dpi;
  picture.area = frame.area;
  if (clear) {
    take_apart(*pixmap, picture);
    fz_drop_pixmap(c, pixmap);
    return picture;
  }
  std::size_t const row = static_cast<std::size_t>(pixmap->w) * 3;
  picture.rgb.resize(row * static_cast<std::size_t>(pixmap->h));
  for (int y = 0; y < pixmap->h; ++y)
    std::memcpy(picture.rgb.data() + static_cast<std::size_t>(y) * row, pixmap->samples + y * pixmap->stride, row);
  fz_drop_pixmap(c, pixmap);
  return picture;
}

}  // namespace layright
