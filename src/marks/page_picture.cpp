// fz_try is setjmp: nothing with a destructor lives inside it.
#include "marks/page_picture.h"

#include <algorithm>
#include <cmath>
#include <cstring>

extern "C" {
#include <mupdf/fitz.h>
#include <mupdf/pdf.h>
}

namespace layright {
namespace {

constexpr int kRim = 8;                 // pixels around the ink, so that no letter touches the picture's edge
constexpr double kMostSide = 20000;     // pixels

struct Frame {
  fz_matrix ctm;
  int width, height;
  Rect<SeenSpace> area;
};

/// May throw through the library.
Frame frame_of(fz_context* c, fz_page* page, Rect<SeenSpace> const& ink, double dpi) {
  fz_rect const seen = fz_bound_page(c, page);  // y down
  double const scale = dpi / 72, height = seen.y1 - seen.y0;
  Frame f;
  f.width = static_cast<int>(std::ceil(std::min(ink.width() * scale, kMostSide))) + 2 * kRim;
  f.height = static_cast<int>(std::ceil(std::min(ink.height() * scale, kMostSide))) + 2 * kRim;
  double const left = ink.x0 - kRim / scale, top = ink.y1 + kRim / scale;
  f.area = {left, top - f.height / scale, left + f.width / scale, top};
  fz_matrix const to_corner = fz_translate(static_cast<float>(-seen.x0 - left), static_cast<float>(-seen.y0 - (height - top)));
  f.ctm = fz_concat(to_corner, fz_scale(static_cast<float>(scale), static_cast<float>(scale)));
  return f;
}

/// May throw through the library.
fz_pixmap* draw(fz_context* c, fz_page* page, Frame const& frame) {
  fz_irect const box = fz_make_irect(0, 0, frame.width, frame.height);
  fz_pixmap* pixmap = nullptr;
  fz_device* device = nullptr;
  fz_var(pixmap);
  fz_var(device);
  fz_try(c) {
    pixmap = fz_new_pixmap_with_bbox(c, fz_device_rgb(c), box, nullptr, 0);
    fz_clear_pixmap_with_value(c, pixmap, 255);
    device = fz_new_draw_device(c, frame.ctm, pixmap);
    if (pdf_page* const own = pdf_page_from_fz_page(c, page)) {
      pdf_run_page_with_usage(c, own, device, fz_identity, "Print", nullptr);
    } else {
      fz_run_page(c, page, device, fz_identity, nullptr);
    }
    fz_close_device(c, device);
  }
  fz_always(c) fz_drop_device(c, device);
  fz_catch(c) {
    fz_drop_pixmap(c, pixmap);
    fz_rethrow(c);
  }
  return pixmap;
}

}  // namespace

double dpi_for_letters(Rect<SeenSpace> const& ink) {
  double const square_inches = std::max(ink.area(), 1.0) / (72.0 * 72.0);
  return std::clamp(std::sqrt(kMostPixels / square_inches), kLeastDpi, kMostDpi);
}

std::optional<PagePicture> draw_page(fz_context* c, fz_page* page, Rect<SeenSpace> const& ink, double dpi) {
  if (!ink.finite() || !(dpi > 0)) return std::nullopt;
  Frame frame{};
  fz_pixmap* pixmap = nullptr;
  fz_var(pixmap);
  fz_try(c) {
    frame = frame_of(c, page, ink, dpi);
    pixmap = draw(c, page, frame);
  }
  fz_catch(c) pixmap = nullptr;
  if (!pixmap) return std::nullopt;
  PagePicture picture;
  picture.width = pixmap->w;
  picture.height = pixmap->h;
  picture.dpi = dpi;
  picture.area = frame.area;
  std::size_t const row = static_cast<std::size_t>(pixmap->w) * 3;
  picture.rgb.resize(row * static_cast<std::size_t>(pixmap->h));
  for (int y = 0; y < pixmap->h; ++y)
    std::memcpy(picture.rgb.data() + static_cast<std::size_t>(y) * row, pixmap->samples + y * pixmap->stride, row);
  fz_drop_pixmap(c, pixmap);
  return picture;
}

}  // namespace layright
