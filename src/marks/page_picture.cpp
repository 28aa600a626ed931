// fz_try is setjmp: nothing with a destructor lives inside it.
#include "marks/page_picture.h"

#include <algorithm>
#include <cmath>

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

/// Draws over `rgb`, which is white and as large as the frame. May throw through the library.
void draw(fz_context* c, fz_page* page, Frame const& frame, unsigned char* rgb) {
  fz_pixmap* pixmap = nullptr;
  fz_device* device = nullptr;
  fz_var(pixmap);
  fz_var(device);
  fz_try(c) {
    pixmap = fz_new_pixmap_with_data(c, fz_device_rgb(c), frame.width, frame.height, nullptr, 0, 3 * frame.width, rgb);
    device = fz_new_draw_device(c, frame.ctm, pixmap);
    if (pdf_page* const own = pdf_page_from_fz_page(c, page)) {
      pdf_run_page_with_usage(c, own, device, fz_identity, "Print", nullptr);
    } else {
      fz_run_page(c, page, device, fz_identity, nullptr);
    }
    fz_close_device(c, device);
  }
  fz_always(c) {
    fz_drop_device(c, device);
    fz_drop_pixmap(c, pixmap);
  }
  fz_catch(c) fz_rethrow(c);
}

}  // namespace

double dpi_for_letters(Rect<SeenSpace> const& ink) {
  double const square_inches = std::max(ink.area(), 1.0) / (72.0 * 72.0);
  return std::clamp(std::sqrt(kMostPixels / square_inches), kLeastDpi, kMostDpi);
}

std::optional<PagePicture> draw_page(fz_context* c, fz_page* page, Rect<SeenSpace> const& ink, double dpi) {
  if (!ink.finite() || !(dpi > 0)) return std::nullopt;
  Frame frame{};
  bool drawn = false;
  fz_var(drawn);
  fz_try(c) frame = frame_of(c, page, ink, dpi);
  fz_catch(c) return std::nullopt;
  PagePicture picture{frame.width, frame.height, dpi, frame.area, {}};
  picture.rgb.assign(3 * static_cast<std::size_t>(frame.width) * static_cast<std::size_t>(frame.height), 255);
  fz_try(c) {
    draw(c, page, frame, picture.rgb.data());
    drawn = true;
  }
  fz_catch(c) drawn = false;
  if (!drawn) return std::nullopt;
  return picture;
}

}  // namespace layright
