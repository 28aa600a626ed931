// The library's device structure around an InkDevice. No C++ exception may cross the library, so each call ends here.
#include "marks/ink_device.h"

namespace layright {
namespace {

struct LibraryDevice {
  fz_device base;
  InkDevice* device;
};

template <class F>
void call(fz_device* base, F&& f) noexcept {
  InkDevice& device = *reinterpret_cast<LibraryDevice*>(base)->device;
  try {
    device.tick();
    if (!device.out_of_time()) f(device);
  } catch (...) {
    device.failed();
  }
}

}  // namespace

fz_device* InkDevice::library_device() {
  auto* d = reinterpret_cast<LibraryDevice*>(fz_new_device_of_size(ctx_, sizeof(LibraryDevice)));
  d->device = this;
  device_ = &d->base;
  d->base.fill_path = [](fz_context*, fz_device* b, fz_path const* path, int even_odd, fz_matrix ctm, fz_colorspace* cs,
                         float const* color, float alpha, fz_color_params params) {
    call(b, [&](InkDevice& x) { x.fill_path(path, even_odd != 0, ctm, Color{cs, color, alpha, params}); });
  };
  d->base.stroke_path = [](fz_context*, fz_device* b, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm,
                           fz_colorspace* cs, float const* color, float alpha, fz_color_params params) {
    call(b, [&](InkDevice& x) { x.stroke_path(path, stroke, ctm, Color{cs, color, alpha, params}); });
  };
  d->base.clip_path = [](fz_context*, fz_device* b, fz_path const* path, int even_odd, fz_matrix ctm, fz_rect) {
    call(b, [&](InkDevice& x) { x.clip_path(path, even_odd != 0, ctm); });
  };
  d->base.clip_stroke_path = [](fz_context*, fz_device* b, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm,
                                fz_rect) { call(b, [&](InkDevice& x) { x.clip_stroke_path(path, stroke, ctm); }); };
  d->base.fill_text = [](fz_context*, fz_device* b, fz_text const* text, fz_matrix ctm, fz_colorspace* cs, float const* color,
                         float alpha, fz_color_params params) {
    call(b, [&](InkDevice& x) { x.fill_text(text, ctm, Color{cs, color, alpha, params}); });
  };
  d->base.stroke_text = [](fz_context*, fz_device* b, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm,
                           fz_colorspace* cs, float const* color, float alpha, fz_color_params params) {
    call(b, [&](InkDevice& x) { x.stroke_text(text, stroke, ctm, Color{cs, color, alpha, params}); });
  };
  d->base.clip_text = [](fz_context*, fz_device* b, fz_text const* text, fz_matrix ctm, fz_rect) {
    call(b, [&](InkDevice& x) { x.clip_text(text, nullptr, ctm); });
  };
  d->base.clip_stroke_text = [](fz_context*, fz_device* b, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm,
                                fz_rect) { call(b, [&](InkDevice& x) { x.clip_text(text, stroke, ctm); }); };
  d->base.ignore_text = [](fz_context*, fz_device* b, fz_text const* text, fz_matrix ctm) {
    call(b, [&](InkDevice& x) { x.ignore_text(text, ctm); });
  };
  d->base.fill_shade = [](fz_context*, fz_device* b, fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) {
    call(b, [&](InkDevice& x) { x.fill_shade(shade, ctm, alpha, params); });
  };
  d->base.fill_image = [](fz_context*, fz_device* b, fz_image* image, fz_matrix ctm, float alpha, fz_color_params) {
    call(b, [&](InkDevice& x) { x.fill_image(image, ctm, alpha); });
  };
  d->base.fill_image_mask = [](fz_context*, fz_device* b, fz_image* image, fz_matrix ctm, fz_colorspace* cs, float const* color,
                               float alpha, fz_color_params params) {
    call(b, [&](InkDevice& x) { x.fill_image_mask(image, ctm, Color{cs, color, alpha, params}); });
  };
  d->base.clip_image_mask = [](fz_context*, fz_device* b, fz_image* image, fz_matrix ctm, fz_rect) {
    call(b, [&](InkDevice& x) { x.clip_image_mask(image, ctm); });
  };
  d->base.pop_clip = [](fz_context*, fz_device* b) { call(b, [](InkDevice& x) { x.pop_clip(); }); };
  d->base.begin_mask = [](fz_context*, fz_device* b, fz_rect, int luminosity, fz_colorspace* cs, float const* backdrop,
                          fz_color_params params) {
    call(b, [&](InkDevice& x) { x.begin_mask(luminosity != 0, cs, backdrop, params); });
  };
  d->base.end_mask = [](fz_context*, fz_device* b) { call(b, [](InkDevice& x) { x.end_mask(); }); };
  d->base.begin_group = [](fz_context*, fz_device* b, fz_rect, fz_colorspace*, int, int, int blend_mode, float alpha) {
    call(b, [&](InkDevice& x) { x.begin_group(blend_mode, alpha); });
  };
  d->base.end_group = [](fz_context*, fz_device* b) { call(b, [](InkDevice& x) { x.end_group(); }); };
  d->base.begin_tile = [](fz_context*, fz_device* b, fz_rect, fz_rect view, float xstep, float ystep, fz_matrix ctm, int) {
    call(b, [&](InkDevice& x) { x.begin_tile(view, xstep, ystep, ctm); });
    return 0;  // its content once, please
  };
  d->base.end_tile = [](fz_context*, fz_device* b) { call(b, [](InkDevice& x) { x.end_tile(); }); };
  return device_;
}

}  // namespace layright
