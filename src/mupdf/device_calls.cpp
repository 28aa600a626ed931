#include "mupdf/device_calls.h"

#include "mupdf/tried.h"

namespace layright {
namespace {

struct MarkDevice {
  fz_device base;
  MarkListener* listener;
  MarkListener* also;
};

/// No C++ exception may cross the library, so each call ends here.
template <class Report_>
void call(fz_device* base, Report_&& report) noexcept {
  auto* d = reinterpret_cast<MarkDevice*>(base);
  try {
    if (!d->listener->hears()) return;
    if (d->also && !d->listener->inside_glyph()) report(*d->also);
    report(*d->listener);
  } catch (...) {
    d->listener->failed();
  }
}

using Context = fz_context*;
using Device = fz_device*;
using Space = fz_colorspace*;
using Params = fz_color_params;

fz_device* allocate(fz_context* ctx) {
  return tried<fz_device*>(ctx, nullptr, [&] { return fz_new_device_of_size(ctx, sizeof(MarkDevice)); });
}

}  // namespace

fz_device* new_mark_device(fz_context* ctx, MarkListener& listener, MarkListener* also) {
  auto* own = reinterpret_cast<MarkDevice*>(allocate(ctx));
  if (own == nullptr) return nullptr;
  own->listener = &listener;
  own->also = also;
  fz_device& b = own->base;
  b.fill_path = [](Context, Device d, fz_path const* path, int even_odd, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
    call(d, [&](MarkListener& l) { l.fill_path(path, even_odd != 0, ctm, {cs, color, alpha, params}); });
  };
  b.stroke_path = [](Context, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color, float alpha,
                     Params params) {
    call(d, [&](MarkListener& l) { l.stroke_path(path, stroke, ctm, {cs, color, alpha, params}); });
  };
  b.clip_path = [](Context, Device d, fz_path const* path, int even_odd, fz_matrix ctm, fz_rect) {
    call(d, [&](MarkListener& l) { l.clip_path(path, even_odd != 0, ctm); });
  };
  b.clip_stroke_path = [](Context, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, fz_rect) {
    call(d, [&](MarkListener& l) { l.clip_stroke_path(path, stroke, ctm); });
  };
  b.fill_text = [](Context, Device d, fz_text const* text, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
    call(d, [&](MarkListener& l) { l.fill_text(text, ctm, {cs, color, alpha, params}); });
  };
  b.stroke_text = [](Context, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color, float alpha,
                     Params params) {
    call(d, [&](MarkListener& l) { l.stroke_text(text, stroke, ctm, {cs, color, alpha, params}); });
  };
  b.clip_text = [](Context, Device d, fz_text const* text, fz_matrix ctm, fz_rect) {
    call(d, [&](MarkListener& l) { l.clip_text(text, nullptr, ctm); });
  };
  b.clip_stroke_text = [](Context, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, fz_rect) {
    call(d, [&](MarkListener& l) { l.clip_text(text, stroke, ctm); });
  };
  b.ignore_text = [](Context, Device d, fz_text const* text, fz_matrix ctm) { call(d, [&](MarkListener& l) { l.ignore_text(text, ctm); }); };
  b.fill_shade = [](Context, Device d, fz_shade* shade, fz_matrix ctm, float alpha, Params params) {
    call(d, [&](MarkListener& l) { l.fill_shade(shade, ctm, alpha, params); });
  };
  b.fill_image = [](Context, Device d, fz_image* image, fz_matrix ctm, float alpha, Params params) {
    call(d, [&](MarkListener& l) { l.fill_image(image, ctm, alpha, params); });
  };
  b.fill_image_mask = [](Context, Device d, fz_image* image, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
    call(d, [&](MarkListener& l) { l.fill_image_mask(image, ctm, {cs, color, alpha, params}); });
  };
  b.clip_image_mask = [](Context, Device d, fz_image* image, fz_matrix ctm, fz_rect) {
    call(d, [&](MarkListener& l) { l.clip_image_mask(image, ctm); });
  };
  b.pop_clip = [](Context, Device d) { call(d, [](MarkListener& l) { l.pop_clip(); }); };
  b.begin_mask = [](Context, Device d, fz_rect, int luminosity, Space cs, float const* backdrop, Params params) {
    call(d, [&](MarkListener& l) { l.begin_mask(luminosity != 0, cs, backdrop, params); });
  };
  b.end_mask = [](Context, Device d) { call(d, [](MarkListener& l) { l.end_mask(); }); };
  b.begin_group = [](Context, Device d, fz_rect, Space cs, int isolated, int knockout, int blend_mode, float alpha) {
    call(d, [&](MarkListener& l) { l.begin_group({cs, isolated != 0, knockout != 0, blend_mode, alpha}); });
  };
  b.end_group = [](Context, Device d) { call(d, [](MarkListener& l) { l.end_group(); }); };
  b.begin_tile = [](Context, Device d, fz_rect, fz_rect view, float xstep, float ystep, fz_matrix ctm, int) {
    call(d, [&](MarkListener& l) { l.begin_tile(view, xstep, ystep, ctm); });
    return 0;  // its content once, please
  };
  b.end_tile = [](Context, Device d) { call(d, [](MarkListener& l) { l.end_tile(); }); };
  return &b;
}

}  // namespace layright
