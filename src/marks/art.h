// What checks of the art need to know of a page's marks beside their extents: plain values in seen space, gathered in the same pass.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/places.h"
#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

/// Things by a measure of which the smallest matter. Holds the kMostValues smallest measures, each with its places, so that a limit that
/// is known only later (it depends on the scale of the placement) can still be asked about. Memory does not grow with the page.
class Smallest {
 public:
  static constexpr std::size_t kMostValues = 64;
  struct Entry {
    double value = 0;
    Places places;
    Rect<SeenSpace> around;  // all of its places
  };
  /// Measures closer than a thousandth are one.
  void add(double value, Rect<SeenSpace> const& where);
  /// Whether add() would keep it: its place need not be worked out otherwise.
  bool wants(double value) const { return entries_.size() < kMostValues || value <= entries_.back().value; }
  /// Takes out what lies inside `box` and `covers(place)`: it does not show any more.
  template <class Covers>
  void cover(Rect<SeenSpace> const& box, Covers&& covers);
  /// What is smaller than `limit`, the smallest first. Exact where fewer than kMostValues measures are below it, else at least so many.
  Places below(double limit) const;
  std::optional<double> least() const { return entries_.empty() ? std::nullopt : std::optional(entries_.front().value); }
  std::vector<Entry> const& entries() const { return entries_; }  // ascending

 private:
  std::vector<Entry> entries_;
};

template <class Covers>
void Smallest::cover(Rect<SeenSpace> const& box, Covers&& covers) {
  std::erase_if(entries_, [&](Entry& e) {
    if (box.contains(e.around) && covers(e.around)) return true;
    if (e.places.count > static_cast<long>(e.places.first.size()) || !intersection(box, e.around)) return false;  // not all places are known
    e.places.count -= static_cast<long>(std::erase_if(e.places.first, [&](auto const& place) { return box.contains(place) && covers(place); }));
    return e.places.count == 0;
  });
}

/// One use of a picture that shows.
struct PictureNote {
  Rect<SeenSpace> where;               // all of it, also what a clip hides
  Rect<SeenSpace> shown;               // the part of `where` that clips and the page's edge leave
  int width = 0, height = 0;           // pixels
  double ppi_along = 0, ppi_down = 0;  // as in ImageUse, at the size it has in seen space
  bool one_bit = false;                // black and white only, or a stencil
  bool stencil = false;
  bool interpolate = false;  // asks to be smoothed when enlarged
  bool reversed = false;     // mirrored in seen space
  int jpeg_quality = 0;      // as the usual tables are scaled, 1 to 100; 0: no JPEG, or tables that tell nothing
  enum class Mask { none, hard, soft } mask = Mask::none;
  double mask_ppi = 0;  // of its mask, the lesser of both directions
  bool flat = false;    // of one color, so that its pixels do not matter
  bool fades = false;   // the soft mask has half-clear areas, not only half-clear edges
};

/// One font that glyphs show in.
struct FontNote {
  std::string name;  // as the file gives it, without the mark of a subset
  bool type3 = false;
  bool replaced = false;   // the library had to take another font for it
  Places glyphs;           // counted one by one; a place for each text; none: other marks cover them all
  Rect<SeenSpace> around;  // all of them
  Places missing;          // glyphs that show the font's sign for "no such glyph"
};

/// One colour space that marks show in.
struct ColourNote {
  std::string space;              // gray, rgb, cmyk, lab, indexed, spot, inks (several names), other
  std::vector<std::string> inks;  // for spot and inks: their names
  bool device = false;            // a device's own (8.6.4), which says nothing of how the colour looks
  float full_rgb[3] = {0, 0, 0};  // for spot: its stand-in at full strength
  Places marks;
};

/// The largest flat opaque upright rectangle, and how many marks came before it.
struct GroundNote {
  Rect<SeenSpace> where;
  bool white = false;
  long before = 0;
};

/// What lies faintly over the page, of one tint: where nothing stronger lies over it.
struct FaintNote {
  double tint = 0;        // 0 to 1
  double area = 0;        // square points
  Rect<SeenSpace> where;  // around all of it
};
inline constexpr float kMostFaint = 0.5F;  // a stronger tint is none that one overlooks

struct ArtNotes {
  std::vector<PictureNote> pictures;       // at most kMostPictureNotes
  Smallest lines, light_lines;             // width in points; light ones lie on something darker
  Smallest text, tinted_text, light_text;  // em in points: in one solid ink; half-toned or of several inks; light on something darker
  Smallest rich_text;                      // black text of black and other inks
  std::vector<FontNote> fonts;
  std::vector<ColourNote> colours;
  Places registration;       // marks in the ink All (ISO 32000-1, 8.6.6.4)
  Places white;              // paper-white paint that is opaque
  Places white_in_pictures;  // parts of paper-white inside them
  Places half_white;         // paper-white paint that is not
  Places white_overprints, spot_overprints;
  Places transferred;               // marks under a transfer function (10.4)
  Places transparent;               // marks that let something shine through
  std::vector<std::string> blends;  // other blend modes than Normal, by their names in PDF
  bool soft_masks = false;
  std::optional<GroundNote> ground;
  std::vector<FaintNote> faint;             // by tint, the faintest first
  long paths = 0, texts = 0, shadings = 0;  // that show
};
inline constexpr std::size_t kMostPictureNotes = 10000, kMostFontNotes = 500, kMostColourNotes = 500;

}  // namespace layright
