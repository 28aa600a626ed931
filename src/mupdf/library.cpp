#include "mupdf/library.h"

#include "mupdf/tried.h"

namespace layright {

Rgb rgb_of(fz_context* ctx, fz_colorspace* space, float const* color, fz_color_params params) {
  float out[FZ_MAX_COLORS] = {0, 0, 0};
  if (space == nullptr || color == nullptr) return {};
  fz_try(ctx) fz_convert_color(ctx, space, color, fz_device_rgb(ctx), out, nullptr, params);
  fz_catch(ctx) out[0] = out[1] = out[2] = 0;
  return {out[0], out[1], out[2]};
}

fz_path* glyph_outline(fz_context* ctx, fz_font* font, int glyph, fz_matrix matrix) {
  return tried<fz_path*>(ctx, nullptr, [&] { return fz_outline_glyph(ctx, font, glyph, matrix); });
}

std::optional<fz_rect> glyph_control_box(fz_context* ctx, fz_font* font, int glyph) {
  fz_rect box = fz_empty_rect;
  int failed = 0;
  fz_var(failed);
  fz_try(ctx) box = fz_bound_glyph(ctx, font, glyph, fz_identity);
  fz_catch(ctx) failed = 1;
  if (failed) return std::nullopt;
  return box;
}

fz_pixmap* image_pixels(fz_context* ctx, fz_image* image, fz_matrix matrix) {
  return tried<fz_pixmap*>(ctx, nullptr, [&] { return fz_get_pixmap_from_image(ctx, image, nullptr, &matrix, nullptr, nullptr); });
}

fz_pixmap* pixels_in_rgb(fz_context* ctx, fz_pixmap* pixels) {
  return tried<fz_pixmap*>(ctx, nullptr,
                           [&] { return fz_convert_pixmap(ctx, pixels, fz_device_rgb(ctx), nullptr, nullptr, fz_default_color_params, 1); });
}

fz_pixmap* shade_pixels(fz_context* ctx, fz_shade* shade, fz_matrix matrix, fz_irect area, fz_color_params params) {
  fz_pixmap* pixels = nullptr;
  fz_var(pixels);
  fz_try(ctx) {
    pixels = fz_new_pixmap_with_bbox(ctx, fz_device_rgb(ctx), area, nullptr, 1);
    fz_clear_pixmap(ctx, pixels);
    fz_paint_shade(ctx, shade, nullptr, matrix, pixels, params, area, nullptr, nullptr);
  }
  fz_catch(ctx) {
    fz_drop_pixmap(ctx, pixels);
    pixels = nullptr;
  }
  return pixels;
}

bool run_type3_glyph(fz_context* ctx, fz_font* font, int glyph, fz_matrix matrix, fz_device* device) {
  int failed = 0;
  fz_var(failed);
  fz_try(ctx) fz_run_t3_glyph(ctx, font, glyph, matrix, device);
  fz_catch(ctx) failed = 1;
  return !failed;
}

}  // namespace layright
