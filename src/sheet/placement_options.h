// How the art is put on the sheet: its scale, turn and place.
#pragma once
#include <optional>
#include <string_view>

#include "base/result.h"
#include "geometry/length.h"
#include "geometry/turn.h"

namespace layright {

/// Which rectangle of the page is scaled, fitted and placed.
enum class PlaceBy { ink, trim, page };
enum class Anchor { centre, top, bottom, left, right, top_left, top_right, bottom_left, bottom_right };

/// How the art is put on the sheet. One of: keep, fit, shrink, percent, or a width and/or height on the goods.
struct PlacementOptions {
  enum class Scale { keep, fit, shrink, percent };
  Scale scale = Scale::keep;
  double percent = 100;                 // only for Scale::percent
  std::optional<Length> width, height;  // of the `by` rectangle, upright as seen; both: fit inside both; then `scale` is keep
  std::optional<Turn> turn;             // of the printed sheet; nothing: auto
  PlaceBy by = PlaceBy::ink;
  Anchor at = Anchor::centre;
  Length offset_x, offset_y;   // to the right and up on the printed sheet
  bool allow_outside = false;  // ink may lie outside the live area
  /// What a person has said for this run, not the configuration: a page that was laid before keeps what nobody asks to be changed.
  struct Asked {
    bool size = false, turn = false, place = false;  // scale, width or height; turn; by, at or offset
    bool any() const { return size || turn || place; }
  } asked = {};
};

/// Words of the command line, the configuration and JSON. Parsing gives an error (usage) that lists the words.
std::string_view word(Anchor);
Result<PlaceBy> parse_place_by(std::string_view);
Result<Anchor> parse_anchor(std::string_view);
/// "keep", "fit", "shrink" or "N%": sets `scale` and `percent`.
Outcome parse_scale(std::string_view, PlacementOptions& into);
/// "auto" (nothing), "0", "90", "180", "270".
Result<std::optional<Turn>> parse_turn(std::string_view);

}  // namespace layright
