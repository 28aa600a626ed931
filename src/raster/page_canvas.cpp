// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_canvas.h"

#include <algorithm>
#include <cmath>

#include "mupdf/colour_transfer.h"

namespace layright {
namespace {

constexpr double kMostSide = 20000;  // pixels

/// What is clipped to a text is painted through its letters: without them nothing of it shows.
void clip_to_nothing(fz_context* c, fz_device* device, fz_matrix ctm, fz_rect scissor) {
  fz_path* path = nullptr;
  fz_var(path);
  fz_try(c) {
    path = fz_new_path(c);
    device->clip_path(c, device, path, 0, ctm, scissor);
  }
  fz_always(c) fz_drop_path(c, path);
  fz_catch(c) fz_rethrow(c);
}
void clip_text(fz_context* c, fz_device* device, fz_text const*, fz_matrix ctm, fz_rect scissor) { clip_to_nothing(c, device, ctm, scissor); }
void clip_stroke_text(fz_context* c, fz_device* device, fz_text const*, fz_stroke_state const*, fz_matrix ctm, fz_rect scissor) {
  clip_to_nothing(c, device, ctm, scissor);
}

/// The library keeps what a tile shows and paints it again in its next drawing: without text it must neither find one with text nor leave one
/// without. Tiles without a number are never kept. Its own function is asked of a device of no use.
int begin_tile(fz_context* c, fz_device* device, fz_rect area, fz_rect view, float xstep, float ystep, fz_matrix ctm, int) {
  fz_pixmap* pixel = nullptr;
  fz_device* other = nullptr;
  fz_var(pixel);
  fz_var(other);
  int begun = 0;
  fz_try(c) {
    pixel = fz_new_pixmap(c, fz_device_gray(c), 1, 1, nullptr, 0);
    other = fz_new_draw_device(c, fz_identity, pixel);
    begun = other->begin_tile(c, device, area, view, xstep, ystep, ctm, 0);
    fz_close_device(c, other);
  }
  fz_always(c) {
    fz_drop_device(c, other);
    fz_drop_pixmap(c, pixel);
  }
  fz_catch(c) fz_rethrow(c);
  return begun;
}

void leave_text_out(fz_device* device) {
  device->begin_tile = begin_tile;
  device->fill_text = nullptr;
  device->stroke_text = nullptr;
  device->clip_text = clip_text;
  device->clip_stroke_text = clip_stroke_text;
}

}  // namespace

CanvasFrame canvas_frame(fz_context* c, fz_page* page, Rect<SeenSpace> const& what, double dpi, int rim) {
  fz_rect const seen = fz_bound_page(c, page);  // y down
  double const scale = dpi / 72, height = seen.y1 - seen.y0;
  CanvasFrame f;
  f.width = static_cast<int>(std::ceil(std::min(what.width() * scale, kMostSide))) + 2 * rim;
  f.height = static_cast<int>(std::ceil(std::min(what.height() * scale, kMostSide))) + 2 * rim;
  double const left = what.x0 - rim / scale, top = what.y1 + rim / scale;
  f.area = {left, top - f.height / scale, left + f.width / scale, top};
  fz_matrix const to_corner = fz_translate(static_cast<float>(-seen.x0 - left), static_cast<float>(-seen.y0 - (height - top)));
  f.ctm = fz_concat(to_corner, fz_scale(static_cast<float>(scale), static_cast<float>(scale)));
  return f;
}

void draw_on_canvas(fz_context* c, fz_page* page, CanvasFrame const& frame, fz_pixmap* pixels, bool without_text) {
  fz_device* device = nullptr;
  fz_var(device);
  fz_try(c) {
    device = fz_new_draw_device(c, frame.ctm, pixels);
    see_true_colours_when_drawn(device);
    if (without_text) leave_text_out(device);
    if (pdf_page* const own = pdf_page_from_fz_page(c, page)) {
      pdf_run_page_with_usage(c, own, device, fz_identity, "Print", nullptr);
    } else {
      fz_run_page(c, page, device, fz_identity, nullptr);
    }
    fz_close_device(c, device);
  }
  fz_always(c) fz_drop_device(c, device);
  fz_catch(c) fz_rethrow(c);
}

}  // namespace layright
