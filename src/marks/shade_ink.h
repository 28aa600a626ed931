// What a shading covers: it is painted small and looked at.
#pragma once
#include "marks/image_ink.h"
#include "mupdf/colour_transfer.h"

namespace layright {

struct ShadeInk {
  SeenRect area;    // what was looked at
  ImageInk ink;     // its pixels, row 0 at the lower edge of `area`
  float faint = 0;  // the mean tint, 0 to 1, of one that is faint all over
  ToSeen matrix() const { return {area.width(), 0, 0, area.height(), area.x0, area.y0}; }
};

/// `area`: finite. `budget` is how many pixels may still be painted on this page, and is lowered.
/// `transfer`: what is done to its colours, or null.
ShadeInk look_at_shade(fz_context* ctx, fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params, InkRule rule,
                       ColourTransfer const* transfer, SeenRect const& area, double& budget);

inline constexpr double kShadePixels = 60e6;  // a page

}  // namespace layright
