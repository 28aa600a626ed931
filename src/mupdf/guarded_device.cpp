// Calls of the library may throw through every function here: nothing with a destructor lives in them.
#include "mupdf/guarded_device.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

constexpr int kMostOpen = 256;  // clips, groups and tiles in each other; deeper ones are left out

struct GuardedDevice {
  fz_device base;
  fz_device* painter;
  int depth;  // of what is open and handed on
  int dead;   // how many are open that are not
  int masks;  // that are being drawn
  GroupSpaces groups;
  fz_irect areas[kMostOpen + 1];
};

GuardedDevice& of(fz_device* device) { return *reinterpret_cast<GuardedDevice*>(device); }

bool has_pixels(fz_irect a) { return a.x1 - a.x0 >= 2 && a.y1 - a.y0 >= 2 && a.x1 > a.x0 && a.y1 > a.y0; }

/// Whether what is opened now is handed on; it is closed by leave().
bool enter(GuardedDevice& d, fz_rect bounds, bool inside_area = true) {
  fz_irect area = fz_irect_from_rect(bounds);
  if (inside_area) area = fz_intersect_irect(area, d.areas[d.depth]);
  if (d.dead > 0 || d.depth == kMostOpen || fz_is_empty_rect(bounds) || !has_pixels(area)) {
    ++d.dead;
    return false;
  }
  d.areas[++d.depth] = area;
  return true;
}

bool leave(GuardedDevice& d) {
  if (d.dead > 0) {
    --d.dead;
    return false;
  }
  d.depth = std::max(0, d.depth - 1);
  return true;
}

/// Of the parts of a path that are at least a pixel high: only they have edges for the painter.
constexpr fz_rect kNothing{1e30F, 1e30F, -1e30F, -1e30F};
struct Bounds {
  fz_rect all, part;
  fz_matrix ctm;
};

void take_in(fz_rect& to, float x, float y) { to = {std::min(to.x0, x), std::min(to.y0, y), std::max(to.x1, x), std::max(to.y1, y)}; }

void close_part(Bounds& b) {
  if (b.part.y1 - b.part.y0 >= 1) {
    take_in(b.all, b.part.x0, b.part.y0);
    take_in(b.all, b.part.x1, b.part.y1);
  }
  b.part = kNothing;
}
void widen(void* to, float x, float y) {
  auto& b = *static_cast<Bounds*>(to);
  fz_point const p = fz_transform_point_xy(x, y, b.ctm);
  take_in(b.part, p.x, p.y);
}
void move_to(fz_context*, void* to, float x, float y) {
  close_part(*static_cast<Bounds*>(to));
  widen(to, x, y);
}
void line_to(fz_context*, void* to, float x, float y) { widen(to, x, y); }
void curve_to(fz_context*, void* to, float x1, float y1, float x2, float y2, float x3, float y3) {
  widen(to, x1, y1);
  widen(to, x2, y2);
  widen(to, x3, y3);
}
void close_path(fz_context*, void*) {}

fz_rect bounds_of(fz_context* c, fz_path const* path, fz_matrix ctm) {
  static fz_path_walker const kWalker{move_to, line_to, curve_to, close_path, nullptr, nullptr, nullptr, nullptr};
  Bounds b{kNothing, kNothing, ctm};
  fz_walk_path(c, path, &kWalker, &b);
  close_part(b);
  return b.all.x1 > b.all.x0 ? b.all : fz_empty_rect;
}

using Context = fz_context*;
using Device = fz_device*;
using Space = fz_colorspace*;
using Params = fz_color_params;

}  // namespace

fz_device* new_guarded_device(fz_context* ctx, fz_device* painter, fz_irect within, GroupSpaces groups) {
  auto* const own = fz_new_derived_device(ctx, GuardedDevice);
  own->painter = painter;
  own->groups = groups;
  own->areas[0] = within;
  fz_device& b = own->base;
  b.close_device = [](Context c, Device d) { fz_close_device(c, of(d).painter); };
  b.fill_path = [](Context c, Device d, fz_path const* path, int even_odd, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
    if (!of(d).dead) fz_fill_path(c, of(d).painter, path, even_odd, ctm, cs, color, alpha, params);
  };
  b.stroke_path = [](Context c, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color,
                     float alpha, Params params) {
    if (!of(d).dead) fz_stroke_path(c, of(d).painter, path, stroke, ctm, cs, color, alpha, params);
  };
  b.clip_path = [](Context c, Device d, fz_path const* path, int even_odd, fz_matrix ctm, fz_rect scissor) {
    if (enter(of(d), bounds_of(c, path, ctm))) fz_clip_path(c, of(d).painter, path, even_odd, ctm, scissor);
  };
  b.clip_stroke_path = [](Context c, Device d, fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, fz_rect scissor) {
    if (enter(of(d), fz_bound_path(c, path, stroke, ctm))) fz_clip_stroke_path(c, of(d).painter, path, stroke, ctm, scissor);
  };
  b.fill_text = [](Context c, Device d, fz_text const* text, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
    if (!of(d).dead) fz_fill_text(c, of(d).painter, text, ctm, cs, color, alpha, params);
  };
  b.stroke_text = [](Context c, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, Space cs, float const* color,
                     float alpha, Params params) {
    if (!of(d).dead) fz_stroke_text(c, of(d).painter, text, stroke, ctm, cs, color, alpha, params);
  };
  b.clip_text = [](Context c, Device d, fz_text const* text, fz_matrix ctm, fz_rect scissor) {
    if (enter(of(d), fz_bound_text(c, text, nullptr, ctm))) fz_clip_text(c, of(d).painter, text, ctm, scissor);
  };
  b.clip_stroke_text = [](Context c, Device d, fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, fz_rect scissor) {
    if (enter(of(d), fz_bound_text(c, text, stroke, ctm))) fz_clip_stroke_text(c, of(d).painter, text, stroke, ctm, scissor);
  };
  b.fill_shade = [](Context c, Device d, fz_shade* shade, fz_matrix ctm, float alpha, Params params) {
    if (!of(d).dead) fz_fill_shade(c, of(d).painter, shade, ctm, alpha, params);
  };
  b.fill_image = [](Context c, Device d, fz_image* image, fz_matrix ctm, float alpha, Params params) {
    if (of(d).dead) return;
    // Only the cover: an upright image has the same pixels, whatever is made of the samples between. Its mask clips it, and is drawn as ever.
    bool const upright = fz_is_rectilinear(ctm) != 0;
    bool const whole = of(d).groups == GroupSpaces::of_painting && of(d).masks == 0 && upright && !image->use_colorkey;
    if (whole) fz_enable_device_hints(c, of(d).painter, FZ_DONT_INTERPOLATE_IMAGES);
    fz_try(c) fz_fill_image(c, of(d).painter, image, ctm, alpha, params);
    fz_always(c) if (whole) fz_disable_device_hints(c, of(d).painter, FZ_DONT_INTERPOLATE_IMAGES);
    fz_catch(c) fz_rethrow(c);
  };
  b.fill_image_mask = [](Context c, Device d, fz_image* image, fz_matrix ctm, Space cs, float const* color, float alpha, Params params) {
    if (!of(d).dead) fz_fill_image_mask(c, of(d).painter, image, ctm, cs, color, alpha, params);
  };
  b.clip_image_mask = [](Context c, Device d, fz_image* image, fz_matrix ctm, fz_rect scissor) {
    if (enter(of(d), fz_transform_rect(fz_unit_rect, ctm))) fz_clip_image_mask(c, of(d).painter, image, ctm, scissor);
  };
  b.pop_clip = [](Context c, Device d) {
    if (leave(of(d))) fz_pop_clip(c, of(d).painter);
  };
  b.begin_mask = [](Context c, Device d, fz_rect area, int luminosity, Space cs, float const* backdrop, Params params) {
    if (!enter(of(d), area)) return;
    ++of(d).masks;
    fz_begin_mask(c, of(d).painter, area, luminosity, cs, backdrop, params);
  };
  b.end_mask = [](Context c, Device d) {  // what follows is clipped by it, until pop_clip
    if (of(d).dead) return;
    --of(d).masks;
    fz_end_mask(c, of(d).painter);
  };
  b.begin_group = [](Context c, Device d, fz_rect area, Space cs, int isolated, int knockout, int blend_mode, float alpha) {
    bool const own = of(d).groups == GroupSpaces::own || of(d).masks > 0;
    if (enter(of(d), area)) fz_begin_group(c, of(d).painter, area, own ? cs : nullptr, isolated, knockout, blend_mode, alpha);
  };
  b.end_group = [](Context c, Device d) {
    if (leave(of(d))) fz_end_group(c, of(d).painter);
  };
  b.begin_tile = [](Context c, Device d, fz_rect area, fz_rect view, float xstep, float ystep, fz_matrix ctm, int id) {
    // One cell is drawn, where its own matrix puts it, which need not be where the pattern is painted.
    if (!enter(of(d), fz_is_empty_rect(area) ? area : fz_transform_rect(view, ctm), false)) return 0;
    return fz_begin_tile_id(c, of(d).painter, area, view, xstep, ystep, ctm, id);
  };
  b.end_tile = [](Context c, Device d) {
    if (leave(of(d))) fz_end_tile(c, of(d).painter);
  };
  b.render_flags = [](Context c, Device d, int set, int clear) { fz_render_flags(c, of(d).painter, set, clear); };
  b.set_default_colorspaces = [](Context c, Device d, fz_default_colorspaces* spaces) { fz_set_default_colorspaces(c, of(d).painter, spaces); };
  return &b;
}

}  // namespace layright
