// Notes, while a page runs, what the checks of its art ask for. InkDevice feeds it with what shows.
#pragma once
#include <array>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "marks/art.h"
#include "marks/faint_grid.h"
#include "mupdf/held_images.h"
#include "mupdf/library.h"
#include "raster/paper.h"

namespace layright {

/// A paint as the interpreter gives it; `alpha` with that of all groups around it.
struct ArtPaint {
  fz_colorspace* space = nullptr;
  float const* values = nullptr;
  float alpha = 1;
  bool overprints = false;
  bool transferred = false;  // by a transfer function
  Rgb rgb;
  float tint = 1;           // of its strongest separation
  bool multiplies = false;  // with what lies beneath, which it does not take the place of
};

/// What a picture or its mask is made of, told once however often it is drawn.
struct PictureFacts {
  int jpeg_quality = 0;
  bool fades = false;
};

class ArtCollector {
 public:
  /// `white_prints`: paper-white marks leave ink.
  ArtCollector(fz_context* ctx, SeenRect const& seen, bool white_prints) : ctx_(ctx), seen_(seen), white_prints_(white_prints), faint_(seen) {
    tones_.fill(kBare);
  }
  ~ArtCollector();
  ArtCollector(ArtCollector const&) = delete;
  ArtCollector& operator=(ArtCollector const&) = delete;

  /// In all of these `shown` is around what shows of the mark.
  /// `rectangle`: the fill is upright and covers all of `whole`; `bar`: it is a parallelogram, so wide and so long.
  void fill(SeenRect const& whole, SeenRect const& shown, bool rectangle, std::optional<std::pair<double, double>> bar, ArtPaint const& paint);
  /// Whether something small is noted that may lie inside `shown`: cover() is worth its cost.
  bool has_small(SeenRect const& shown) const;
  /// What lies inside `shown` and is covered there does not show any more.
  template <class Covers>
  void cover(SeenRect const& shown, Covers&& covers);
  /// `width` as drawn, at its narrowest; 0 for a hairline.
  void stroke(SeenRect const& shown, double width, ArtPaint const& paint);
  /// A run of glyphs in one font: `em` in points, `glyphs` of them visible, `missing` show that there is no such glyph.
  void text(SeenRect const& shown, fz_font* font, double em, long glyphs, long missing, ArtPaint const& paint);
  void shading(SeenRect const& shown, fz_shade* shade, float alpha);
  /// What lies faintly over `shown`, as a shading or a picture turned out to.
  void faint(SeenRect const& shown, float tint, float alpha) { faint_.lay(shown, tint, alpha); }
  template <class Covers>
  void faint(SeenRect const& shown, ArtPaint const& paint, Covers&& covers) {
    if (paint.multiplies) faint_.lay(shown, 1, paint.tint * paint.alpha, covers);
    else faint_.lay(shown, paint.tint, paint.alpha, covers);
  }
  void picture(fz_image* image, ToSeen const& matrix, SeenRect const& shown, float alpha);
  /// A part of paper-white inside the picture; and that the last picture, which lies there, is of one color.
  void white_in_picture(SeenRect const& shown) { notes_.white_in_pictures.add(shown); }
  void flat_picture(SeenRect const& where) {
    if (!notes_.pictures.empty() && notes_.pictures.back().where == where) notes_.pictures.back().flat = true;
  }
  /// The colour that a stencil is painted in; picture() comes next.
  void stencil_color(SeenRect const& shown, ArtPaint const& paint) { color(shown, paint); }
  void group(int blend_mode, float alpha);
  void soft_mask() { notes_.soft_masks = true; }

  ArtNotes take() {
    notes_.faint = faint_.notes();
    std::erase_if(notes_.fonts, [](FontNote const& font) { return font.glyphs.count == 0; });
    return std::move(notes_);
  }

 private:
  void color(SeenRect const& shown, ArtPaint const& paint);
  /// Where the space is known, or nothing where there are too many.
  ColourNote* colour_of(fz_colorspace* space);
  FontNote* font_of(fz_font* font);
  PictureFacts const& facts_of(fz_image* image);
  /// Whether paint of this luminance at `shown` lies on something clearly darker.
  bool on_darker(SeenRect const& shown, float light) const;
  void paint_tone(SeenRect const& shown, float light);
  void note_small(SeenRect const& shown) { small_ = small_ ? united(*small_, shown) : shown; }

  // The page in cells, each with the luminance of the last large mark over it: only what lies beneath small light marks is asked of it.
  static constexpr int kCells = 64;
  static constexpr unsigned char kBare = 255;
  fz_context* ctx_;
  SeenRect seen_;
  bool white_prints_;
  std::array<unsigned char, kCells * kCells> tones_{};
  FaintGrid faint_;
  ArtNotes notes_;
  std::map<fz_colorspace*, std::size_t> spaces_;
  std::map<fz_font*, std::size_t> fonts_;
  std::map<fz_image*, PictureFacts> pictures_;
  HeldImages<fz_image*> held_;
  std::optional<SeenRect> small_;  // around all that a cover may hide
  mutable long looks_ = 0;         // for it
};

template <class Covers>
void ArtCollector::cover(SeenRect const& shown, Covers&& covers) {
  for (auto* const things : {&notes_.lines, &notes_.light_lines, &notes_.text, &notes_.tinted_text, &notes_.light_text, &notes_.rich_text})
    things->cover(shown, covers);
  for (auto& font : notes_.fonts) {
    if (font.glyphs.count == 0 || !shown.contains(font.around) || !covers(font.around)) continue;
    font.glyphs = {};
    font.missing = {};
  }
}

}  // namespace layright
