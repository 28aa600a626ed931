// Turns what the library calls into entries of a tape.
#pragma once
#include "marks/mark_digest.h"
#include "marks/tape.h"

#include <cstdint>
#include <optional>
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
  /// A clip, a mask's content, a group or a tile ends.
  void close(int what);
  static constexpr int kPopClip = 1, kEndMask = 2, kEndGroup = 3, kEndTile = 4;

  // The library fills with a pattern by one tiling or by up to four copies of its cell, as rounding tips the scales. It is told as the pattern,
  // with what is in its cell.
  struct Cell {
    fz_rect box;
    float xstep, ystep;
  };
  /// What is drawn next, until the clip ends that it begins with, tells the matrix of the cell.
  void probe_cell() { probing_ = true; }
  void begin_cell(Cell const& cell);
  void end_cell();

 private:
  void send(MarkEntry::Kind kind, Digest const& digest, fz_matrix ctm, fz_rect bounds, bool rectangle = false, bool plain = false);
  Tape& tape_;
  MarkDigests& digests_;
  bool pass_group_ = false;
  int depth_ = 0, passed_depth_ = -1;
  bool knockout_ = false;     // of the group that is told
  struct OpenCell {
    fz_matrix matrix;         // of the cell
    bool told;                // not a further copy, nor squeezed to nothing
    bool counted;             // what is drawn is for the tape at all
    std::uint64_t digest = 0;
  };
  std::vector<OpenCell> cells_;
  std::array<float, 2> step_{0, 0};  // of the pattern that is told
  bool probing_ = false;
  std::optional<fz_matrix> probed_;
  std::uint64_t last_cell_ = 0;  // the one that has just ended, and nothing after it
  bool flat_clip_ = false;       // the last clip shows nothing
  bool told() const { return cells_.empty() || cells_.back().told; }
};

}  // namespace layright
