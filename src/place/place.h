// Finds the one matrix that puts a page on a sheet: reverse x in seen space, turn, scale, move in sheet space.
#pragma once
#include <optional>
#include <string>
#include <variant>

#include "geometry/matrix.h"
#include "geometry/seen.h"
#include "geometry/space.h"
#include "sheet/target.h"

namespace layright {

struct Placement {
  Matrix<SeenSpace, SheetSpace> matrix;
  Matrix<SheetSpace, SheetSpace>
      correction;  // what comes last in `matrix` for the press's sake (correction.h); scale, turn and reversal leave it out
  double scale = 1;
  Turn turn = Turn::none;
  bool reversed = false;                // by this placement
  bool reversed_later = false;          // by the printer or the RIP: turn, scale and matrix are those of the file, the printed sheet is its mirror
  std::optional<Rect<SheetSpace>> ink;  // where the ink comes to lie; nothing for a blank page
  bool outside = false;                 // ink lies outside the live area, because the options allowed it
};

/// Why a page cannot be placed as asked.
struct PlaceRefusal {
  std::string message;                     // in the user's unit, with the figure that would fit
  SeenSize needs;                          // of the ink or rectangle at the asked scale, as it would lie on the sheet; points
  double largest_scale = 1;                // the largest that would fit, counted from the page as it came; 0: none would
  std::optional<Placement> as_asked = {};  // where it would lie all the same, past the live area; nothing: it cannot be scaled as asked
};

using PlaceResult = std::variant<Placement, PlaceRefusal>;

/// What is placed: rectangles in the page's seen space.
struct PlaceSubject {
  std::optional<Rect<SeenSpace>> ink;  // nothing: blank
  Rect<SeenSpace> trim;
  Rect<SeenSpace> page;  // all that is seen
};

/// One matrix, made in this order: reverse x in seen space, turn, scale, move (DESIGN rule 7).
///
/// `reverse`: this placement reverses. `reverses_later`: the printer or the RIP reverses after it; then `turn`, `at`, `offset` and the margins
/// are mirrored across the sheet's vertical middle, so that the printed sheet comes out as asked (rule 8).
///
/// What is scaled and anchored is the `by` rectangle; a blank page placed by its ink is placed by its page.
/// - Scale: `fit` makes that rectangle fill the live area, whatever it is; `shrink` is the same but never enlarges; a width or a height
///   is the rectangle's own, upright as seen, before any turn; both: it fits inside both.
/// - Anchor: ink is put against the live area. A trim or a page is put, on each axis by itself, against the live area where it fits
///   there and against the sheet where it does not: so a page of the sheet's size stays where it is, and one that is smaller never
///   loses to the margin what the live area would hold.
/// - Turn `auto`: a turn that can be placed; of these one that keeps the rectangle on the sheet; of these the largest scale; of equal
///   ones the smallest turn. So 0 wherever it fits at a given scale. Where none can be placed: the one that comes nearest.
///
/// Refused: ink outside the live area (whatever `by` says, unless the options allow it), a blank page's rectangle outside the sheet, a
/// rectangle that cannot be scaled as asked. `tolerance`: how far ink may pass the live area. Noise below kPlacementNoise is dropped, so
/// that a page which already lies right gives exactly the identity.
PlaceResult place(PlaceSubject const& subject, Sheet const& sheet, PlacementOptions const& options, bool reverse, bool reverses_later, Unit unit,
                  Length tolerance = Limits{}.margin_tolerance);
inline constexpr double kPlacementNoise = 1e-6;  // points of a move; parts of one of a scale

/// What a turn of the file looks like on the printed sheet, and the other way round: a mirror shows a turn the other way.
Turn turn_seen(Turn turn, bool reverses_later);

/// Mirrored across the sheet's vertical middle.
Rect<SheetSpace> mirrored(Rect<SheetSpace> const& rect, Sheet const& sheet);
/// The live area as the file must keep it: mirrored where somebody reverses later.
Rect<SheetSpace> live_area_of_file(Sheet const& sheet, bool reverses_later);

}  // namespace layright
