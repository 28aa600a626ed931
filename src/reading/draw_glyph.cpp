// Draws one glyph small, in its own space, with MuPDF. fz_try is setjmp: nothing with a destructor lives inside it.
#include "reading/letter_shape.h"

#include <cstring>
#include <utility>

#include "mupdf/library.h"

namespace layright {
namespace {

constexpr int kCanvas = 64;          // pixels a side of the drawing, before it is averaged into cells
constexpr float kFlattest = 0.02f;   // a glyph much flatter than this is a rule or a dash, not a letter
constexpr int kLargestImage = 4096;  // pixels a side of a picture inside a Type 3 glyph

/// Gathers where a Type 3 glyph paints, and whether it is simple enough to be drawn: a glyph may hold text, even in its own font.
struct ExtentDevice {
  fz_device base;
  fz_rect area;
  int unfit;
};
ExtentDevice* own(fz_device* device) { return reinterpret_cast<ExtentDevice*>(device); }
void grow(fz_device* device, fz_rect r) { own(device)->area = fz_union_rect(own(device)->area, r); }
void on_fill(fz_context* c, fz_device* d, fz_path const* path, int, fz_matrix m, fz_colorspace*, float const*, float, fz_color_params) {
  grow(d, fz_bound_path(c, path, nullptr, m));
}
void on_stroke(fz_context* c, fz_device* d, fz_path const* path, fz_stroke_state const* s, fz_matrix m, fz_colorspace*, float const*, float,
               fz_color_params) {
  grow(d, fz_bound_path(c, path, s, m));
}
void on_picture(fz_device* d, fz_image const* image, fz_matrix m) {
  if (image->w > kLargestImage || image->h > kLargestImage) own(d)->unfit = 1;
  grow(d, fz_transform_rect(fz_unit_rect, m));
}
void on_image(fz_context*, fz_device* d, fz_image* image, fz_matrix m, float, fz_color_params) { on_picture(d, image, m); }
void on_stencil(fz_context*, fz_device* d, fz_image* image, fz_matrix m, fz_colorspace*, float const*, float, fz_color_params) {
  on_picture(d, image, m);
}
void on_text(fz_context*, fz_device* d, fz_text const*, fz_matrix, fz_colorspace*, float const*, float, fz_color_params) { own(d)->unfit = 1; }
void on_shade(fz_context*, fz_device* d, fz_shade*, fz_matrix, float, fz_color_params) { own(d)->unfit = 1; }
int on_tile(fz_context*, fz_device* d, fz_rect, fz_rect, float, float, fz_matrix, int) {
  own(d)->unfit = 1;
  return 1;
}

bool is_type3(fz_context* c, fz_font* font) { return fz_font_t3_procs(c, font) != nullptr; }

/// May throw through the library.
fz_rect extent(fz_context* c, fz_font* font, int glyph) {
  if (!is_type3(c, font)) {
    fz_path* const path = fz_outline_glyph(c, font, glyph, fz_identity);
    fz_rect const r = path ? fz_bound_path(c, path, nullptr, fz_identity) : fz_empty_rect;
    fz_drop_path(c, path);
    return r;
  }
  auto* const device = reinterpret_cast<ExtentDevice*>(fz_new_device_of_size(c, sizeof(ExtentDevice)));
  device->area = fz_empty_rect;
  device->base.fill_path = on_fill;
  device->base.stroke_path = on_stroke;
  device->base.fill_image = on_image;
  device->base.fill_image_mask = on_stencil;
  device->base.fill_text = on_text;
  device->base.fill_shade = on_shade;
  device->base.begin_tile = on_tile;
  fz_rect r = fz_empty_rect;
  fz_try(c) {
    fz_run_t3_glyph(c, font, glyph, fz_identity, &device->base);
    fz_close_device(c, &device->base);
    if (!device->unfit) r = device->area;
  }
  fz_always(c) fz_drop_device(c, &device->base);
  fz_catch(c) fz_rethrow(c);
  return r;
}

bool drawable(fz_rect r) {
  float const w = r.x1 - r.x0, h = r.y1 - r.y0;
  return w > 0 && h > 0 && w < 1000 && h < 1000 && w > kFlattest * h && h > kFlattest * w;
}

/// `area` of glyph space stretched over the canvas. May throw through the library.
void paint(fz_context* c, fz_font* font, int glyph, fz_rect area, fz_pixmap* canvas) {
  fz_matrix m = fz_translate(-area.x0, -area.y0);
  m = fz_concat(m, fz_scale(kCanvas / (area.x1 - area.x0), kCanvas / (area.y1 - area.y0)));
  fz_clear_pixmap(c, canvas);
  fz_device* device = nullptr;
  fz_path* path = nullptr;
  fz_var(device);
  fz_var(path);
  fz_try(c) {
    device = fz_new_draw_device(c, fz_identity, canvas);
    if (is_type3(c, font)) {
      fz_run_t3_glyph(c, font, glyph, m, device);
    } else if ((path = fz_outline_glyph(c, font, glyph, fz_identity)) != nullptr) {
      fz_fill_path(c, device, path, 0, m, nullptr, nullptr, 1, fz_default_color_params);
    }
    fz_close_device(c, device);
  }
  fz_always(c) {
    fz_drop_path(c, path);
    fz_drop_device(c, device);
  }
  fz_catch(c) fz_rethrow(c);
}

/// The part of `area` that holds the ink of the canvas.
fz_rect inked(fz_pixmap const* canvas, fz_rect area) {
  int x0 = kCanvas, y0 = kCanvas, x1 = 0, y1 = 0;
  for (int y = 0; y < kCanvas; ++y)
    for (int x = 0; x < kCanvas; ++x)
      if (canvas->samples[y * canvas->stride + x] > 127) {
        x0 = fz_mini(x0, x), x1 = fz_maxi(x1, x + 1);
        y0 = fz_mini(y0, y), y1 = fz_maxi(y1, y + 1);
      }
  if (x0 >= x1) return fz_empty_rect;
  float const w = (area.x1 - area.x0) / kCanvas, h = (area.y1 - area.y0) / kCanvas;
  return {area.x0 + x0 * w, area.y0 + y0 * h, area.x0 + x1 * w, area.y0 + y1 * h};
}

/// Twice the area that an outline encloses, by its corners and control points; negative where it runs clockwise.
struct Area {
  float sum, x, y, x0, y0;  // x0, y0: where the contour began
};
void go(Area& a, float x, float y) {
  a.sum += a.x * y - x * a.y;
  a.x = x, a.y = y;
}
void area_move(fz_context*, void* a, float x, float y) { *static_cast<Area*>(a) = {static_cast<Area*>(a)->sum, x, y, x, y}; }
void area_line(fz_context*, void* a, float x, float y) { go(*static_cast<Area*>(a), x, y); }
void area_curve(fz_context*, void* a, float x1, float y1, float x2, float y2, float x3, float y3) {
  for (auto const& [x, y] : {std::pair(x1, y1), std::pair(x2, y2), std::pair(x3, y3)}) go(*static_cast<Area*>(a), x, y);
}
void area_close(fz_context*, void* a) { go(*static_cast<Area*>(a), static_cast<Area*>(a)->x0, static_cast<Area*>(a)->y0); }

/// Whether the font's own file holds TrueType outlines (OpenType 1.9, "Font file": the version is 1.0 or "true").
bool is_truetype(fz_font const* font) {
  constexpr unsigned char kVersion[] = {0, 1, 0, 0}, kTrue[] = {'t', 'r', 'u', 'e'};
  fz_buffer const* const file = font->buffer;
  return file && file->len > 4 && (std::memcmp(file->data, kVersion, 4) == 0 || std::memcmp(file->data, kTrue, 4) == 0);
}

/// Outer contours of TrueType run clockwise (Apple TrueType Reference Manual, "Instructing Fonts"), those of Type 1 and CFF
/// counterclockwise (Adobe Type 1 Font Format, 4.3; both from memory). May throw through the library.
Winding winding(fz_context* c, fz_font* font, int glyph) {
  if (is_type3(c, font)) return Winding::unknown;
  Area area{};
  fz_path_walker walker{};
  walker.moveto = area_move;
  walker.lineto = area_line;
  walker.curveto = area_curve;
  walker.closepath = area_close;
  fz_path* const path = fz_outline_glyph(c, font, glyph, fz_identity);
  if (path) fz_walk_path(c, path, &walker, &area);
  fz_drop_path(c, path);
  if (area.sum == 0) return Winding::unknown;
  return (area.sum < 0) == is_truetype(font) ? Winding::usual : Winding::turned;
}

/// Averages the canvas into cells. In the library's pixmaps row 0 has the least y, which here is the lowest: nothing was flipped.
void average(fz_pixmap const* canvas, GlyphPicture& picture) {
  constexpr int kSide = GlyphPicture::kSide;
  long sum[kSide * kSide] = {}, count[kSide * kSide] = {};
  for (int y = 0; y < kCanvas; ++y)
    for (int x = 0; x < kCanvas; ++x) {
      int const cell = y * kSide / kCanvas * kSide + x * kSide / kCanvas;
      sum[cell] += canvas->samples[y * canvas->stride + x];
      ++count[cell];
    }
  for (int i = 0; i < kSide * kSide; ++i) picture.ink[static_cast<std::size_t>(i)] = static_cast<std::uint8_t>(sum[i] / count[i]);
}

}  // namespace

std::optional<GlyphPicture> draw_glyph(fz_context* c, fz_font* font, int glyph) {
  if (!font || glyph < 0) return std::nullopt;
  GlyphPicture picture;
  bool drawn = false;
  fz_pixmap* canvas = nullptr;
  fz_var(canvas);
  fz_var(drawn);
  fz_try(c) {
    fz_rect area = extent(c, font, glyph);
    if (drawable(area)) {
      canvas = fz_new_pixmap(c, nullptr, kCanvas, kCanvas, nullptr, 1);
      paint(c, font, glyph, area, canvas);
      fz_rect const tight = inked(canvas, area);
      if (drawable(tight)) {  // strokes and pictures are bounded loosely
        if (!is_type3(c, font) || (tight.x1 - tight.x0) * 1.05f > area.x1 - area.x0) {
          drawn = true;
        } else {
          paint(c, font, glyph, tight, canvas);
          drawn = true;
        }
      }
      if (drawn) average(canvas, picture);
      picture.winding = winding(c, font, glyph);
    }
  }
  fz_always(c) fz_drop_pixmap(c, canvas);
  fz_catch(c) drawn = false;
  if (!drawn) return std::nullopt;
  return picture;
}

}  // namespace layright
