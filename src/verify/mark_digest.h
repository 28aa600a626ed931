// What a mark is before its matrix, as a digest: path, glyphs, picture, shading, stroke, colour.
#pragma once
#include <map>

#include "mupdf/held_images.h"
#include "mupdf/mark_listener.h"
#include "verify/hash64.h"

namespace layright {

class MarkDigests {
 public:
  explicit MarkDigests(fz_context* ctx) : ctx_(ctx) {}
  ~MarkDigests();
  MarkDigests(MarkDigests const&) = delete;
  MarkDigests& operator=(MarkDigests const&) = delete;

  /// Each adds to `digest`. Where there are bounds, they are in the mark's own space, before its matrix.
  fz_rect path(Hash64& digest, fz_path const* path, bool* upright_rectangle = nullptr);
  void stroke(Hash64& digest, fz_stroke_state const& state);
  void space(Hash64& digest, fz_colorspace* space);
  void color(Hash64& digest, MarkColor const& color);
  fz_rect text(Hash64& digest, fz_text const* text);
  void image(Hash64& digest, fz_image* image);
  fz_rect shade(Hash64& digest, fz_shade* shade);
  /// Lets go of fonts and pictures.
  void end_page();

 private:
  std::uint64_t font(fz_font* font);
  std::uint64_t type3_glyph(fz_font* font, int glyph);
  fz_context* ctx_;
  std::map<fz_font*, std::uint64_t> fonts_;
  std::map<std::pair<fz_font*, int>, std::uint64_t> type3_;
  std::map<fz_image*, std::uint64_t> images_;
  HeldImages<fz_image*> held_;
  int depth_ = 0;  // of Type 3 fonts in Type 3 fonts
};

}  // namespace layright
