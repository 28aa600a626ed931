// MuPDF's headers, and its calls in a form that cannot throw through C++.
//
// MuPDF's errors are longjmp: nothing with a destructor may live between an fz_try and a throw. So each wrapper here holds plain
// pointers only, and gives null or nothing where the library failed.
#pragma once
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wpedantic"
#pragma GCC diagnostic ignored "-Wunused-parameter"
extern "C" {
#include <mupdf/fitz.h>
#include <mupdf/pdf.h>
}
#pragma GCC diagnostic pop

#include <optional>

#include "geometry/matrix.h"
#include "geometry/space.h"

namespace layright {

/// The space that a mark is drawn in, before its current matrix: user space, glyph space, the unit square of a picture.
struct MarkSpace {};
using ToSeen = Matrix<MarkSpace, SeenSpace>;

inline ToSeen from_library(fz_matrix const& m) { return {m.a, m.b, m.c, m.d, m.e, m.f}; }
inline SeenRect from_library(fz_rect const& r) { return {r.x0, r.y0, r.x1, r.y1}; }
template <class A, class B>
fz_matrix to_library(Matrix<A, B> const& m) {
  return {static_cast<float>(m.a), static_cast<float>(m.b), static_cast<float>(m.c),
          static_cast<float>(m.d), static_cast<float>(m.e), static_cast<float>(m.f)};
}
inline fz_rect to_library(SeenRect const& r) {
  return {static_cast<float>(r.x0), static_cast<float>(r.y0), static_cast<float>(r.x1), static_cast<float>(r.y1)};
}

struct Rgb {
  float r = 0, g = 0, b = 0;
};
/// Black where the library cannot convert it.
Rgb rgb_of(fz_context* ctx, fz_colorspace* space, float const* color, fz_color_params params);
/// The outline under `matrix`; null where the font has none. The caller drops it.
fz_path* glyph_outline(fz_context* ctx, fz_font* font, int glyph, fz_matrix matrix);
/// The control box in glyph space; nothing where the library failed.
std::optional<fz_rect> glyph_control_box(fz_context* ctx, fz_font* font, int glyph);
/// Decoded, at least as large as `matrix` needs at one pixel a unit; null on failure. The caller drops it.
fz_pixmap* image_pixels(fz_context* ctx, fz_image* image, fz_matrix matrix);
/// Converted to RGB, alpha kept; null on failure. The caller drops it.
fz_pixmap* pixels_in_rgb(fz_context* ctx, fz_pixmap* pixels);
/// A shading painted on clear pixels, `matrix` to pixels; null on failure. The caller drops it.
fz_pixmap* shade_pixels(fz_context* ctx, fz_shade* shade, fz_matrix matrix, fz_irect area, fz_color_params params);
/// False when the library threw.
bool run_type3_glyph(fz_context* ctx, fz_font* font, int glyph, fz_matrix matrix, fz_device* device);

}  // namespace layright
