// A piece of a page's picture by itself, as it is or reversed, so that a person sees which way it reads.
#pragma once
#include "geometry/rect.h"
#include "geometry/space.h"
#include "report/proof_module/proof_canvas.h"

namespace layright {

struct CutOut {
  Rect<SeenSpace> piece;  // what was asked for, and a rim around it
  double scale, height;   // of its drawing
};

/// As large as goes into a window of `w` by `h`, three times as high for what stands upright.
CutOut cut_out(Rect<SeenSpace> const& where, double w, double h);

/// `pixels` are the picture's, of cairo_pixels.
void draw_cut_out(ProofCanvas& pen, cairo_surface_t* pixels, PagePicture const& picture, Rect<SeenSpace> const& piece, double scale, double x,
                  double y, bool reversed);

}  // namespace layright
