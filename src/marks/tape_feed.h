// Turns what the library calls into entries of a tape.
#pragma once
#include "marks/mark_digest.h"
#include "marks/tape.h"

#include <vector>

namespace layright {

class TapeFeed {
 public:
  TapeFeed(Tape& tape, MarkDigests& digests) : tape_(tape), digests_(digests) {}
  /// The page's own group comes next: it is told in the frame, not as an entry.
  void pass_page_group() { pass_group_ = true; }
  void end_section();

  void fill_path(fz_path const* path, int even_odd, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha, fz_color_params params);
  void stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha,
                   fz_color_params params);
  void clip_path(fz_path const* path, int even_odd, fz_matrix ctm);
  void clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm);
  void fill_text(fz_text const* text, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha, fz_color_params params);
  void stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha,
                   fz_color_params params);
  void clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm);
  void ignore_text(fz_text const* text, fz_matrix ctm);
  void fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params);
  void fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params params);
  void fill_image_mask(fz_image* image, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha, fz_color_params params);
  void clip_image_mask(fz_image* image, fz_matrix ctm);
  void begin_mask(int luminosity, fz_colorspace* cs, float const* backdrop, fz_color_params params);
  void begin_group(fz_colorspace* cs, int isolated, int knockout, int blend_mode, float alpha);
  void begin_tile(fz_rect area, fz_rect view, float xstep, float ystep, fz_matrix ctm);
  /// A clip, a mask's content, a group or a tile ends.
  void close(int what);
  static constexpr int kPopClip = 1, kEndMask = 2, kEndGroup = 3, kEndTile = 4;

 private:
  void send(MarkEntry::Kind kind, Digest const& digest, fz_matrix ctm, fz_rect bounds, bool rectangle = false, bool plain = false);
  Tape& tape_;
  MarkDigests& digests_;
  bool pass_group_ = false;
  int depth_ = 0, passed_depth_ = -1;
  struct Passed {
    int depth;
    float x, y;  // how far its one copy is moved
  };
  bool knockout_ = false;      // of the group that is told
  std::vector<Passed> tiles_;  // open ones that are no tiles
};

}  // namespace layright
