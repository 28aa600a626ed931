// What glyphs cover. Outlines and boxes are kept by font and glyph, since a page repeats them thousands of times.
#pragma once
#include <array>
#include <memory>
#include <optional>
#include <unordered_map>
#include <vector>

#include "marks/library_trouble.h"
#include "marks/outline.h"
#include "marks/stroke_extents.h"
#include "reading/letter_shape.h"

namespace layright {

class GlyphCache {
 public:
  /// `heard` is set while glyphs are read.
  GlyphCache(fz_context* ctx, LibraryTrouble& heard) : ctx_(ctx), heard_(heard) {}
  ~GlyphCache();
  GlyphCache(GlyphCache const&) = delete;
  GlyphCache& operator=(GlyphCache const&) = delete;

  /// Around the glyph, perhaps a little too large; nothing for a glyph that leaves nothing (a space).
  std::optional<SeenRect> bounds(fz_font* font, int glyph, ToSeen const& matrix);
  /// Exact extents of the filled glyph; with `window`, of what lies inside it.
  std::optional<SeenRect> extents(fz_font* font, int glyph, ToSeen const& matrix, std::optional<SeenRect> const& window);
  /// The same for a stroked glyph: the pen is in the space between `to_user` (from glyph space) and `matrix`.
  std::optional<SeenRect> stroke_extents(fz_font* font, int glyph, fz_matrix const& to_user, StrokeStyle const& style, ToSeen const& matrix,
                                         std::optional<SeenRect> const& window);
  /// Whether the font that comes with the file lacks it, or a part of it, although it says that it is there.
  bool damaged(fz_font* font, int glyph);
  /// What draw_glyph gives for it; drawn once, however many pages ask.
  std::optional<GlyphPicture> picture(fz_font* font, int glyph);
  /// Lets go of fonts that the last kIdlePages pages did not use.
  void end_page();

 private:
  static constexpr long kIdlePages = 4;
  struct Glyph {
    bool known = false, empty = false, measured = false, damaged = false;
    Rect<MarkSpace> control{}, exact{};  // glyph space
    std::unique_ptr<Outline> outline;
    std::unique_ptr<std::optional<GlyphPicture>> picture;
  };
  using Block = std::array<Glyph, 64>;
  struct Font {
    std::vector<std::unique_ptr<Block>> blocks;
    long last_page = 0;
  };
  Glyph* find(fz_font* font, int glyph);
  Outline const* outline(fz_font* font, int number, Glyph& glyph);

  fz_context* ctx_;
  LibraryTrouble& heard_;
  std::unordered_map<fz_font*, Font> fonts_;
  fz_font* last_font_ = nullptr;
  Font* last_ = nullptr;
  long page_ = 0;
};

}  // namespace layright
