// Turns what the library calls into entries of a tape.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "mupdf/mark_listener.h"
#include "verify/mark_digest.h"
#include "verify/mark_trace.h"

namespace layright {

class TraceRecorder : public MarkListener {
 public:
  /// For whole pages. Outlives its use by a reader, and the reader's drop_cached_pages() may not be left out.
  explicit TraceRecorder(MarkTrace& tape) : tape_(tape) {}
  /// For one glyph.
  TraceRecorder(MarkTrace& tape, MarkDigests& digests) : tape_(tape), digests_(&digests) {}

  void begin_page(fz_context* ctx, PageFrame const& frame) override;
  void end_section() override;
  void end_page() override { tape_.end_page(); }
  void drop_cached_pages() override { own_digests_.reset(); }

  void fill_path(fz_path const* path, bool even_odd, fz_matrix ctm, MarkColor const& color) override;
  void stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, MarkColor const& color) override;
  void clip_path(fz_path const* path, bool even_odd, fz_matrix ctm) override;
  void clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm) override;
  void fill_text(fz_text const* text, fz_matrix ctm, MarkColor const& color) override;
  void stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, MarkColor const& color) override;
  void clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) override;
  void ignore_text(fz_text const* text, fz_matrix ctm) override;
  void fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) override;
  void fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params params) override;
  void fill_image_mask(fz_image* image, fz_matrix ctm, MarkColor const& color) override;
  void clip_image_mask(fz_image* image, fz_matrix ctm) override;
  void pop_clip() override { close(kPopClip); }
  void begin_mask(bool luminosity, fz_colorspace* space, float const* backdrop, fz_color_params params) override;
  void end_mask() override { close(kEndMask); }
  void begin_group(MarkGroup const& group) override;
  void end_group() override { close(kEndGroup); }
  // The library fills with a pattern by one tiling or by up to four copies of its cell, as rounding tips the scales. It is taken down as the pattern,
  // with what is in its cell.
  void begin_tile(fz_rect, float, float, fz_matrix) override {}
  void end_tile() override {}
  void probe_cell() override { probing_ = true; }
  void begin_cell(PatternCell const& cell) override;
  void end_cell() override;

 private:
  static constexpr int kPopClip = 1, kEndMask = 2, kEndGroup = 3, kEndTile = 4;
  /// A clip, a mask's content, a group or a tile ends.
  void close(int what);
  void send(MarkEntry::Kind kind, Hash64 const& digest, fz_matrix ctm, fz_rect bounds, bool rectangle = false, bool plain = false);
  MarkTrace& tape_;
  std::optional<MarkDigests> own_digests_;  // of a page
  MarkDigests* digests_ = nullptr;
  bool pass_group_ = false;  // the page's own group comes next: it is told in the frame, not as an entry
  int depth_ = 0, passed_depth_ = -1;
  bool knockout_ = false;  // of the group that is traced
  struct OpenCell {
    fz_matrix matrix;  // of the cell
    bool reported;     // not a further copy, nor squeezed to nothing
    bool counted;      // what is drawn is for the tape at all
    std::uint64_t digest = 0;
  };
  std::vector<OpenCell> cells_;
  std::array<float, 2> step_{0, 0};  // of the pattern that is traced
  bool probing_ = false;
  std::optional<fz_matrix> probed_;
  std::uint64_t last_cell_ = 0;  // the one that has just ended, and nothing after it
  bool flat_clip_ = false;       // the last clip shows nothing
  bool reported() const { return cells_.empty() || cells_.back().reported; }
};

}  // namespace layright
