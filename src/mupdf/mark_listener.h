// Who wants to hear what a page paints implements this: the library's interpreter calls it, mark by mark (device_calls.h, run_rules.h).
#pragma once
#include "mupdf/library.h"
#include "mupdf/page_frame.h"

namespace layright {

struct MarkColor {
  fz_colorspace* space;
  float const* values;
  float alpha;
  fz_color_params params;
};

struct MarkGroup {
  fz_colorspace* space;
  bool isolated, knockout;
  int blend_mode;
  float alpha;
};

/// The cell of a tiling pattern (ISO 32000-1, 8.7.3).
struct PatternCell {
  fz_rect box;
  float xstep, ystep;
};

/// The calls of ISO 32000-1, 8 and 11: each may come at any time, in any order that the file makes up. They may throw; failed() then comes.
class MarkListener {
 public:
  virtual ~MarkListener() = default;

  // Around the marks of a page; nothing of these comes for a glyph that is drawn by itself.
  virtual void begin_page(fz_context*, PageFrame const&) {}
  virtual void end_section() {}  // of PageSection
  virtual void end_page() {}     // does not come where it broke off
  /// Lets go of all of the library's that it keeps: the page is over.
  virtual void drop_cached_pages() {}

  virtual void fill_path(fz_path const* path, bool even_odd, fz_matrix ctm, MarkColor const& color) = 0;
  virtual void stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, MarkColor const& color) = 0;
  virtual void clip_path(fz_path const* path, bool even_odd, fz_matrix ctm) = 0;
  virtual void clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm) = 0;
  virtual void fill_text(fz_text const* text, fz_matrix ctm, MarkColor const& color) = 0;
  virtual void stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, MarkColor const& color) = 0;
  virtual void clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) = 0;  // stroke: null where it is filled
  virtual void ignore_text(fz_text const* text, fz_matrix ctm) = 0;
  virtual void fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) = 0;
  virtual void fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params params) = 0;
  virtual void fill_image_mask(fz_image* image, fz_matrix ctm, MarkColor const& color) = 0;
  virtual void clip_image_mask(fz_image* image, fz_matrix ctm) = 0;
  virtual void pop_clip() = 0;
  virtual void begin_mask(bool luminosity, fz_colorspace* space, float const* backdrop, fz_color_params params) = 0;
  virtual void end_mask() = 0;
  virtual void begin_group(MarkGroup const& group) = 0;
  virtual void end_group() = 0;
  /// What is in a tile comes once.
  virtual void begin_tile(fz_rect view, float xstep, float ystep, fz_matrix ctm) = 0;
  virtual void end_tile() = 0;

  // What the library does not tell its devices (run_rules.h).
  /// A text object begins or ends (BT, ET).
  virtual void text_object(bool) {}
  /// What is drawn next, until the clip ends that it begins with, tells the matrix of the cell that begins then.
  virtual void probe_cell() {}
  virtual void begin_cell(PatternCell const&) {}
  virtual void end_cell() {}

  /// Asked before each call: false where it hears no more.
  virtual bool hears() { return true; }
  /// Whether what comes now is drawn by a glyph of a Type 3 font that it runs.
  virtual bool inside_glyph() const { return false; }
  virtual void failed() {}
};

}  // namespace layright
