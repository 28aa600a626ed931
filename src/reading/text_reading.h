// Which way a page's live text reads: told by each glyph's own matrix, weighed by letters that tell, with fonts tested for lying.
#pragma once
#include <functional>
#include <map>
#include <optional>
#include <span>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/space.h"
#include "reading/letter_shape.h"
#include "sheet/target.h"

namespace layright {

/// A font's own space as the library shows it: one unit to the em, y up; for a Type 3 font after its FontMatrix.
struct GlyphSpace {};

/// One glyph that a page shows.
struct GlyphSeen {
  int unicode = -1;                       // -1: not known
  bool visible = true;                    // false: text rendering mode 3 (an OCR layer)
  Matrix<GlyphSpace, SeenSpace> to_seen;  // y up on both sides; only the sign of its determinant is looked at
  Rect<SeenSpace> where;                  // its extents, inside what is seen
  void const* font = nullptr;             // its identity; never followed, but the font must stay alive, or its address may serve another one
  bool type3 = false;
  bool sure = true;  // false: only a picture of the page tells whether anybody sees it
  double area = 0;   // of its extents, also what lies outside what is seen; 0: as `where`
};

struct TextReadingResult {
  Reading reading = Reading::unknown;
  std::vector<Rect<SeenSpace>> where;  // for mixed: what reads the other way than most, at most kMostPlaces
  std::vector<Rect<SeenSpace>> text;   // where the text lies that told, at most kMostPlaces
  long right = 0, wrong = 0;           // visible glyphs that tell, after fonts were weighed
  long symmetric = 0;                  // visible glyphs that look much the same reversed, or that have no name
  long doubted = 0;                    // visible glyphs of fonts that cannot be trusted (they count nowhere else)
  Reading layer = Reading::unknown;    // what invisible text says that lies on a picture: somebody's guess at letters, never the verdict
  bool layer_on_picture = false;       // there is such text
  double area = 0;                     // square points of visible glyphs that are trusted
  bool alone = true;                   // false: other marks of the page could be letters (set by who reads the page)
};
inline constexpr std::size_t kMostPlaces = 20;

/// Fed by the device, in drawing order, with every glyph that leaves a mark inside what is seen (not: clipped away, in a soft mask,
/// outside the page, a space) and with the invisible ones. Memory does not grow with the text.
///
///     if (reading.wants_picture(glyph))
///       if (auto picture = draw_glyph(library, font, gid)) reading.add_picture(glyph, *picture);
///     reading.add(glyph);
class TextReading {
 public:
  void add(GlyphSeen const& glyph);
  /// Whether a picture of this glyph would help to tell how its font draws (asked for a few letters of each font).
  bool wants_picture(GlyphSeen const& glyph) const;
  void add_picture(GlyphSeen const& glyph, GlyphPicture const& picture);
  /// Something opaque was painted inside `bounds`: visible text so far that lies wholly beneath it, by `covers`, is seen no more.
  void hide(Rect<SeenSpace> const& bounds, std::function<bool(Rect<SeenSpace> const&)> const& covers);
  /// Something was painted inside `bounds`: text beneath of which it may cover much is no longer sure to be seen.
  void cover(Rect<SeenSpace> const& bounds);

  /// How many square points of a place its text changes in a picture of the page, without what `others` change.
  using Sight = std::function<double(Rect<SeenSpace> const& place, std::vector<Rect<SeenSpace>> const& others)>;
  /// `pictures`: where the page's images lie; invisible text counts only where it lies on one of them. Text that is not sure to be seen
  /// counts where `sight` sees it; without one it counts.
  TextReadingResult result(std::span<Rect<SeenSpace> const> pictures, Sight const& sight = {}) const;
  /// Around all visible text, where the answer hangs on text that is not sure to be seen.
  std::optional<Rect<SeenSpace>> asks_sight(std::span<Rect<SeenSpace> const> pictures) const;

  /// Neighbours in drawing order, of one font and one sign; about a line of text.
  struct Run {
    std::size_t font = 0;
    bool mirrored = false, visible = true, sure = true;
    long decisive = 0, symmetric = 0, unnamed = 0;
    bool lopsided = false;        // its symmetric letters are not the same read backwards, so their order tells
    double height = 0;            // of its tallest glyph
    double area = 0;              // of its glyphs
    double covered = 0;           // share of its extents, added up over what was painted on it
    Rect<SeenSpace> where, last;  // all of it; its last glyph
  };

 private:
  struct Font {
    bool type3 = false;
    FontShapeTest test;
  };
  std::size_t index_of(GlyphSeen const& glyph);
  Run& run_for(GlyphSeen const& glyph);
  bool sure(Run const& run) const;

  std::map<void const*, std::size_t> indices_;
  std::vector<Font> fonts_;
  std::vector<Run> runs_;
  std::vector<int> word_;              // the symmetric letters of the run in hand, for `lopsided`
  double narrowest_ = 0, lowest_ = 0;  // no visible run is narrower or lower: most shapes are too small to hide one
  long pictures_ = 0;
  std::optional<Rect<SeenSpace>> around_;  // all runs
  double work_ = 0;                        // of cover()
};

}  // namespace layright
