// Draws what a page prints onto pixels of any kind. For the parts of this folder that look at a rendering.
#pragma once
#include "geometry/rect.h"
#include "geometry/space.h"
#include "mupdf/library.h"

namespace layright {

/// Pixels over a part of a page: `width` x `height`, rows from the top, `ctm` from the page's points to them.
struct CanvasFrame {
  fz_matrix ctm;
  int width = 0, height = 0;
  Rect<SeenSpace> area;  // all that the pixels cover
};

/// A frame around `what` with `rim` pixels to each side. Throws through the library.
CanvasFrame canvas_frame(fz_context* ctx, fz_page* page, Rect<SeenSpace> const& what, double dpi, int rim);

/// Draws with annotations and layers as when printed, and live text only where it is not left out. Throws through the library.
void draw_on_canvas(fz_context* ctx, fz_page* page, CanvasFrame const& frame, fz_pixmap* pixels, bool without_text = false);

}  // namespace layright
