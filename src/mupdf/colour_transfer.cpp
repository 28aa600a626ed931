// fz_try is setjmp: nothing with a destructor lives inside it, nor in what the library calls here.
#include "mupdf/colour_transfer.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "mupdf/run_rules.h"

namespace layright {
namespace {

using Context = fz_context*;
using Curve = std::array<unsigned char, 256>;

void sample(Context ctx, pdf_obj* object, Curve& curve) {
  for (std::size_t i = 0; i < curve.size(); ++i) curve[i] = static_cast<unsigned char>(i);
  if (!pdf_is_dict(ctx, object)) return;  // a name: as it is
  pdf_function* const function = pdf_load_function(ctx, object, 1, 1);
  fz_try(ctx) {
    for (std::size_t i = 0; i < curve.size(); ++i) {
      float const in = static_cast<float>(i) / 255;
      float out = in;
      pdf_eval_function(ctx, function, &in, 1, &out, 1);
      curve[i] = static_cast<unsigned char>(std::lround(255 * std::clamp(std::isfinite(out) ? out : in, 0.0F, 1.0F)));
    }
  }
  fz_always(ctx) pdf_drop_function(ctx, function);
  fz_catch(ctx) fz_rethrow(ctx);
}

bool changes(Curve const& curve) {
  for (std::size_t i = 0; i < curve.size(); ++i)
    if (std::abs(static_cast<int>(curve[i]) - static_cast<int>(i)) > 1) return true;
  return false;
}

float at(Curve const& curve, float value) {
  return static_cast<float>(curve[static_cast<std::size_t>(std::lround(255 * std::clamp(value, 0.0F, 1.0F)))]) / 255;
}

}  // namespace

Rgb ColourTransfer::of(Rgb c) const { return {at(curves[0], c.r), at(curves[1], c.g), at(curves[2], c.b)}; }

void ColourTransfer::apply(fz_pixmap& rgb) const {
  for (int y = 0; y < rgb.h; ++y) {
    unsigned char* p = rgb.samples + static_cast<std::ptrdiff_t>(y) * rgb.stride;
    for (int x = 0; x < rgb.w; ++x, p += rgb.n) {
      unsigned const alpha = rgb.alpha ? p[3] : 255;
      for (std::size_t i = 0; alpha > 0 && i < 3; ++i)
        p[i] = static_cast<unsigned char>(curves[i][std::min(255U, p[i] * 255U / alpha)] * alpha / 255U);
    }
  }
}

bool read_transfer(Context ctx, pdf_obj* function, ColourTransfer* transfer) {
  bool volatile read = false;
  fz_try(ctx) {
    bool const each = pdf_is_array(ctx, function) && pdf_array_len(ctx, function) >= 3;
    if (each || pdf_is_dict(ctx, function)) {
      for (int i = 0; i < 3; ++i) sample(ctx, each ? pdf_array_get(ctx, function, i) : function, transfer->curves[static_cast<std::size_t>(i)]);
      read = changes(transfer->curves[0]) || changes(transfer->curves[1]) || changes(transfer->curves[2]);
    }
  }
  fz_catch(ctx) read = false;
  return read;
}

Colourant colourant_of(Context ctx, fz_colorspace* space) {
  if (space == nullptr || fz_colorspace_type(ctx, space) != FZ_COLORSPACE_SEPARATION) return Colourant::ordinary;
  int const n = fz_colorspace_n(ctx, space);
  bool none = true;
  for (int i = 0; i < n; ++i) {
    char const* const name = fz_colorspace_colorant(ctx, space, i);
    if (n == 1 && name != nullptr && std::strcmp(name, "All") == 0) return Colourant::all;
    none = none && name != nullptr && std::strcmp(name, "None") == 0;
  }
  return none ? Colourant::none : Colourant::ordinary;
}

namespace {

using Space = fz_colorspace*;
using Params = fz_color_params;
using Device = fz_device*;

enum { kDrawn, kListed };

/// The library's functions of one kind of device; they are the same for all of that kind.
template <int kind>
struct Own {
  static inline decltype(fz_device::fill_path) fill_path = nullptr;
  static inline decltype(fz_device::stroke_path) stroke_path = nullptr;
  static inline decltype(fz_device::fill_text) fill_text = nullptr;
  static inline decltype(fz_device::stroke_text) stroke_text = nullptr;
  static inline decltype(fz_device::fill_shade) fill_shade = nullptr;
  static inline decltype(fz_device::fill_image) fill_image = nullptr;
  static inline decltype(fz_device::fill_image_mask) fill_image_mask = nullptr;
};

ColourTransfer const* transfer_of(Context ctx) {
  auto const* const rules = RunRules::of(ctx);
  return rules ? rules->transfer() : nullptr;
}

/// A colour as it prints; `space` is null where it leaves nothing.
struct Seen {
  Space space;
  float const* values;
  float own[4];
};

void see(Context ctx, Space space, float const* values, Params params, Seen& seen) {
  seen.space = space;
  seen.values = values;
  if (space == nullptr) return;
  Colourant const colourant = colourant_of(ctx, space);
  if (colourant == Colourant::none) {
    seen.space = nullptr;
    return;
  }
  if (colourant == Colourant::all) {
    seen.space = fz_device_cmyk(ctx);
    for (float& value : seen.own) value = values[0];
    seen.values = seen.own;
  }
  ColourTransfer const* const transfer = transfer_of(ctx);
  if (transfer == nullptr) return;
  float rgb[FZ_MAX_COLORS] = {0};
  fz_convert_color(ctx, seen.space, seen.values, fz_device_rgb(ctx), rgb, nullptr, params);
  Rgb const laid = transfer->of({rgb[0], rgb[1], rgb[2]});
  seen.own[0] = laid.r;
  seen.own[1] = laid.g;
  seen.own[2] = laid.b;
  seen.space = fz_device_rgb(ctx);
  seen.values = seen.own;
}

bool shows(Seen const& seen, Space space) { return seen.space != nullptr || space == nullptr; }

template <int kind>
void fill_path(Context c, Device d, fz_path const* path, int even_odd, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
  Seen seen;
  see(c, cs, color, params, seen);
  if (shows(seen, cs)) Own<kind>::fill_path(c, d, path, even_odd, ctm, seen.space, seen.values, alpha, params);
}
template <int kind>
void stroke_path(Context c, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color, float alpha,
                 Params params) {
  Seen seen;
  see(c, cs, color, params, seen);
  if (shows(seen, cs)) Own<kind>::stroke_path(c, d, path, stroke, ctm, seen.space, seen.values, alpha, params);
}
template <int kind>
void fill_text(Context c, Device d, fz_text const* text, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
  Seen seen;
  see(c, cs, color, params, seen);
  if (shows(seen, cs)) Own<kind>::fill_text(c, d, text, ctm, seen.space, seen.values, alpha, params);
}
template <int kind>
void stroke_text(Context c, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color, float alpha,
                 Params params) {
  Seen seen;
  see(c, cs, color, params, seen);
  if (shows(seen, cs)) Own<kind>::stroke_text(c, d, text, stroke, ctm, seen.space, seen.values, alpha, params);
}
template <int kind>
void fill_image_mask(Context c, Device d, fz_image* image, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
  Seen seen;
  see(c, cs, color, params, seen);
  if (shows(seen, cs)) Own<kind>::fill_image_mask(c, d, image, ctm, seen.space, seen.values, alpha, params);
}
/// `values` in the space of a shading, as they print, in RGB.
void transfer_values(Context c, Space space, float* values, Params params, ColourTransfer const& transfer) {
  Rgb const rgb = transfer.of(rgb_of(c, space, values, params));
  values[0] = rgb.r;
  values[1] = rgb.g;
  values[2] = rgb.b;
}

/// A shading along a line or between circles under the transfer; the caller drops it. Null for others, which are drawn as they are. May jump out.
fz_shade* transferred(Context c, fz_shade const* shade, Params params, ColourTransfer const& transfer) {
  if ((shade->type != FZ_LINEAR && shade->type != FZ_RADIAL) || !shade->use_function) return nullptr;
  fz_shade* const made = fz_malloc_struct(c, fz_shade);
  *made = *shade;
  FZ_INIT_STORABLE(made, 1, fz_drop_shade_imp);
  int const n = fz_colorspace_n(c, shade->colorspace);
  for (auto& entry : made->function) {
    transfer_values(c, shade->colorspace, entry, params, transfer);
    entry[3] = entry[n];
  }
  if (made->use_background) transfer_values(c, shade->colorspace, made->background, params, transfer);
  made->colorspace = fz_keep_colorspace(c, fz_device_rgb(c));
  made->buffer = nullptr;
  return made;
}

template <int kind>
void fill_shade(Context c, Device d, fz_shade* shade, fz_matrix ctm, float alpha, Params params) {
  if (colourant_of(c, shade->colorspace) == Colourant::none) return;
  ColourTransfer const* const transfer = transfer_of(c);
  fz_shade* const made = transfer ? transferred(c, shade, params, *transfer) : nullptr;
  fz_try(c) Own<kind>::fill_shade(c, d, made ? made : shade, ctm, alpha, params);
  fz_always(c) fz_drop_shade(c, made);
  fz_catch(c) fz_rethrow(c);
}

/// The picture in RGB under the transfer; the caller drops it. May jump out.
fz_image* transferred(Context c, fz_image* image, ColourTransfer const& transfer) {
  fz_pixmap* pixels = nullptr;
  fz_pixmap* rgb = nullptr;
  fz_image* made = nullptr;
  fz_var(pixels);
  fz_var(rgb);
  fz_var(made);
  fz_try(c) {
    pixels = fz_get_pixmap_from_image(c, image, nullptr, nullptr, nullptr, nullptr);
    rgb = fz_convert_pixmap(c, pixels, fz_device_rgb(c), nullptr, nullptr, fz_default_color_params, 1);
    transfer.apply(*rgb);
    made = fz_new_image_from_pixmap(c, rgb, image->mask);
  }
  fz_always(c) {
    fz_drop_pixmap(c, pixels);
    fz_drop_pixmap(c, rgb);
  }
  fz_catch(c) fz_rethrow(c);
  return made;
}

template <int kind>
void fill_image(Context c, Device d, fz_image* image, fz_matrix ctm, float alpha, Params params) {
  if (colourant_of(c, image->colorspace) == Colourant::none) return;
  ColourTransfer const* const transfer = transfer_of(c);
  if (transfer == nullptr) return Own<kind>::fill_image(c, d, image, ctm, alpha, params);
  fz_image* const made = transferred(c, image, *transfer);
  fz_try(c) Own<kind>::fill_image(c, d, made, ctm, alpha, params);
  fz_always(c) fz_drop_image(c, made);
  fz_catch(c) fz_rethrow(c);
}

template <int kind>
void see_true_colours(Device d) {
  Own<kind>::fill_path = d->fill_path;
  Own<kind>::stroke_path = d->stroke_path;
  Own<kind>::fill_text = d->fill_text;
  Own<kind>::stroke_text = d->stroke_text;
  Own<kind>::fill_shade = d->fill_shade;
  Own<kind>::fill_image = d->fill_image;
  Own<kind>::fill_image_mask = d->fill_image_mask;
  d->fill_path = fill_path<kind>;
  d->stroke_path = stroke_path<kind>;
  d->fill_text = fill_text<kind>;
  d->stroke_text = stroke_text<kind>;
  d->fill_shade = fill_shade<kind>;
  d->fill_image = fill_image<kind>;
  d->fill_image_mask = fill_image_mask<kind>;
}

}  // namespace

void see_true_colours_when_drawn(fz_device* painter) { see_true_colours<kDrawn>(painter); }
void see_true_colours_when_listed(fz_device* list) { see_true_colours<kListed>(list); }

}  // namespace layright
