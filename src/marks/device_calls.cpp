#include "marks/device_calls.h"

#include "marks/ink_device.h"
#include "marks/tape_feed.h"

namespace layright {
namespace {

struct MarkDevice {
  fz_device base;
  InkDevice* ink;
  TapeFeed* tape;
};

/// No C++ exception may cross the library, so each call ends here. What a Type 3 glyph draws is part of its text on the tape.
template <class Ink, class Feed>
void call(fz_device* base, Ink&& to_ink, Feed&& to_tape) noexcept {
  auto* d = reinterpret_cast<MarkDevice*>(base);
  try {
    if (d->ink) d->ink->tick();
    if (d->ink && d->ink->out_of_time()) return;
    if (d->tape && !(d->ink && d->ink->inside_type3())) to_tape(*d->tape);
    if (d->ink) to_ink(*d->ink);
  } catch (...) {
    if (d->ink) d->ink->failed();
  }
}

using Context = fz_context*;
using Device = fz_device*;
using Space = fz_colorspace*;
using Params = fz_color_params;

void fill_path(Context, Device d, fz_path const* path, int even_odd, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.fill_path(path, even_odd != 0, ctm, {cs, color, alpha, params}); },
       [&](TapeFeed& t) { t.fill_path(path, even_odd, ctm, cs, color, alpha, params); });
}
void stroke_path(Context, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color,
                 float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.stroke_path(path, stroke, ctm, {cs, color, alpha, params}); },
       [&](TapeFeed& t) { t.stroke_path(path, stroke, ctm, cs, color, alpha, params); });
}
void clip_path(Context, Device d, fz_path const* path, int even_odd, fz_matrix ctm, fz_rect) {
  call(d, [&](InkDevice& i) { i.clip_path(path, even_odd != 0, ctm); }, [&](TapeFeed& t) { t.clip_path(path, even_odd, ctm); });
}
void clip_stroke_path(Context, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, fz_rect) {
  call(d, [&](InkDevice& i) { i.clip_stroke_path(path, stroke, ctm); }, [&](TapeFeed& t) { t.clip_stroke_path(path, stroke, ctm); });
}
void fill_text(Context, Device d, fz_text const* text, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.fill_text(text, ctm, {cs, color, alpha, params}); },
       [&](TapeFeed& t) { t.fill_text(text, ctm, cs, color, alpha, params); });
}
void stroke_text(Context, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color,
                 float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.stroke_text(text, stroke, ctm, {cs, color, alpha, params}); },
       [&](TapeFeed& t) { t.stroke_text(text, stroke, ctm, cs, color, alpha, params); });
}
void clip_text(Context, Device d, fz_text const* text, fz_matrix ctm, fz_rect) {
  call(d, [&](InkDevice& i) { i.clip_text(text, nullptr, ctm); }, [&](TapeFeed& t) { t.clip_text(text, nullptr, ctm); });
}
void clip_stroke_text(Context, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, fz_rect) {
  call(d, [&](InkDevice& i) { i.clip_text(text, stroke, ctm); }, [&](TapeFeed& t) { t.clip_text(text, stroke, ctm); });
}
void ignore_text(Context, Device d, fz_text const* text, fz_matrix ctm) {
  call(d, [&](InkDevice& i) { i.ignore_text(text, ctm); }, [&](TapeFeed& t) { t.ignore_text(text, ctm); });
}
void fill_shade(Context, Device d, fz_shade* shade, fz_matrix ctm, float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.fill_shade(shade, ctm, alpha, params); }, [&](TapeFeed& t) { t.fill_shade(shade, ctm, alpha, params); });
}
void fill_image(Context, Device d, fz_image* image, fz_matrix ctm, float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.fill_image(image, ctm, alpha); }, [&](TapeFeed& t) { t.fill_image(image, ctm, alpha, params); });
}
void fill_image_mask(Context, Device d, fz_image* image, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
  call(d, [&](InkDevice& i) { i.fill_image_mask(image, ctm, {cs, color, alpha, params}); },
       [&](TapeFeed& t) { t.fill_image_mask(image, ctm, cs, color, alpha, params); });
}
void clip_image_mask(Context, Device d, fz_image* image, fz_matrix ctm, fz_rect) {
  call(d, [&](InkDevice& i) { i.clip_image_mask(image, ctm); }, [&](TapeFeed& t) { t.clip_image_mask(image, ctm); });
}
void pop_clip(Context, Device d) {
  call(d, [](InkDevice& i) { i.pop_clip(); }, [](TapeFeed& t) { t.close(TapeFeed::kPopClip); });
}
void begin_mask(Context, Device d, fz_rect, int luminosity, Space cs, float const* backdrop, Params params) {
  call(d, [&](InkDevice& i) { i.begin_mask(luminosity != 0, cs, backdrop, params); },
       [&](TapeFeed& t) { t.begin_mask(luminosity, cs, backdrop, params); });
}
void end_mask(Context, Device d) {
  call(d, [](InkDevice& i) { i.end_mask(); }, [](TapeFeed& t) { t.close(TapeFeed::kEndMask); });
}
void begin_group(Context, Device d, fz_rect, Space cs, int isolated, int knockout, int blend_mode, float alpha) {
  call(d, [&](InkDevice& i) { i.begin_group(blend_mode, alpha); },
       [&](TapeFeed& t) { t.begin_group(cs, isolated, knockout, blend_mode, alpha); });
}
void end_group(Context, Device d) {
  call(d, [](InkDevice& i) { i.end_group(); }, [](TapeFeed& t) { t.close(TapeFeed::kEndGroup); });
}
int begin_tile(Context, Device d, fz_rect, fz_rect view, float xstep, float ystep, fz_matrix ctm, int) {
  call(d, [&](InkDevice& i) { i.begin_tile(view, xstep, ystep, ctm); }, [](TapeFeed&) {});  // on the tape it is its cell (run_rules.cpp)
  return 0;  // its content once, please
}
void end_tile(Context, Device d) {
  call(d, [](InkDevice& i) { i.end_tile(); }, [](TapeFeed&) {});
}

fz_device* allocate(fz_context* ctx) {
  fz_device* device = nullptr;
  fz_var(device);
  fz_try(ctx) device = fz_new_device_of_size(ctx, sizeof(MarkDevice));
  fz_catch(ctx) device = nullptr;
  return device;
}

}  // namespace

fz_device* new_mark_device(fz_context* ctx, InkDevice* ink, TapeFeed* tape) {
  auto* d = reinterpret_cast<MarkDevice*>(allocate(ctx));
  if (d == nullptr) return nullptr;
  d->ink = ink;
  d->tape = tape;
  fz_device& b = d->base;
  b.fill_path = fill_path;
  b.stroke_path = stroke_path;
  b.clip_path = clip_path;
  b.clip_stroke_path = clip_stroke_path;
  b.fill_text = fill_text;
  b.stroke_text = stroke_text;
  b.clip_text = clip_text;
  b.clip_stroke_text = clip_stroke_text;
  b.ignore_text = ignore_text;
  b.fill_shade = fill_shade;
  b.fill_image = fill_image;
  b.fill_image_mask = fill_image_mask;
  b.clip_image_mask = clip_image_mask;
  b.pop_clip = pop_clip;
  b.begin_mask = begin_mask;
  b.end_mask = end_mask;
  b.begin_group = begin_group;
  b.end_group = end_group;
  b.begin_tile = begin_tile;
  b.end_tile = end_tile;
  return &b;
}

}  // namespace layright
