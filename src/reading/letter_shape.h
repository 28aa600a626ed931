// Whether a font draws its letters the right way round in its own space. A reader trusts the matrices; a font may lie below them.
#pragma once
#include <array>
#include <cstdint>
#include <optional>

struct fz_context;
struct fz_font;

namespace layright {

/// Which way round the outer edges of a glyph run, against what its kind of font wants.
enum class Winding { unknown, usual, turned };

/// The ink of one glyph, its extents stretched over a square of cells; row 0 is the lowest, column 0 the leftmost; 255 is full ink.
struct GlyphPicture {
  static constexpr int kSide = 12;
  std::array<std::uint8_t, kSide * kSide> ink{};
  Winding winding = Winding::unknown;  // not told of Type 3 fonts, which keep to no rule
};

/// Draws glyph `glyph` of `font` in its own space (for a Type 3 font: after its FontMatrix, ISO 32000-1, 9.6.5). Nothing where it
/// leaves no ink, is flat, or the library fails. Throws nothing.
std::optional<GlyphPicture> draw_glyph(fz_context* library, fz_font* font, int glyph);

/// Whether the reversed letter looks another than the letter itself, so that it tells which way it reads.
/// no_letter: spaces, punctuation, symbols. unnamed: nobody knows what it is (no Unicode value, or one of private use). symmetric: letters that
/// look much the same reversed (A H I M O T U V W X Y and their like in Greek and Cyrillic). asymmetric: all other letters and digits, those of
/// other scripts too.
enum class MirrorSymmetry { no_letter, unnamed, symmetric, asymmetric };
MirrorSymmetry symmetry_of(int unicode);

/// How a font draws its letters in its own space.
enum class FontShape { untested, natural, reversed, doubtful };

/// How alike the letters seen are to what they should look like: in the best of the four turns, and in the best of the four reversed
/// ways to lie; means over letters, from -1 to 1.
struct FontShapeScore {
  int letters = 0;
  double natural = 0, reversed = 0;
};

/// Gathers a few letters of one font and says how it draws them: each letter is compared with what it should look like in all eight
/// ways in which a square can lie. The expected shapes are averages over several of Debian's fonts (tests/reading). Where shapes decide
/// nothing, as in other scripts, outlines that run the wrong way round make a font doubtful: a reversal turns their winding round.
class FontShapeTest {
 public:
  /// Whether another picture of this letter would help: its shape is known, it was not seen yet, and the font is not yet settled; or it
  /// is one of the font's first letters of unknown shape, of which only the winding counts.
  bool wants(int unicode) const;
  void add(int unicode, GlyphPicture const& picture);
  FontShape shape() const;
  FontShapeScore score() const;

 private:
  std::array<double, 8> likeness_{};  // of each way to lie, summed over letters; 0 to 3 are turns, 4 to 7 are reversed
  std::array<std::uint64_t, 2> seen_{};
  int letters_ = 0, others_ = 0;  // of known and of unknown shape
  int usual_ = 0, turned_ = 0;    // windings
};

}  // namespace layright
