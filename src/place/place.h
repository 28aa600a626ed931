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
  double scale = 1;
  Turn turn = Turn::none;
  bool reversed = false;               // by this placement
  std::optional<Rect<SheetSpace>> ink; // where the ink comes to lie; nothing for a blank page
  bool outside = false;                // ink lies outside the live area, because the wish allowed it
};

/// Why a page cannot be placed as asked.
struct PlaceRefusal {
  std::string message;                 // in the user's unit, with the figure that would fit
  SeenSize needs;                      // of the ink or rectangle at the asked scale, as it would lie on the sheet; points
  double largest_scale = 1;            // the scale, counted from the page as it came, that would fit
};

using PlaceResult = std::variant<Placement, PlaceRefusal>;

/// What is placed: rectangles in the page's seen space.
struct PlaceSubject {
  std::optional<Rect<SeenSpace>> ink;  // nothing: blank
  Rect<SeenSpace> trim;
  Rect<SeenSpace> page;                // all that is seen
};

/// `reverse`: this placement reverses. `reverses_later`: the printer or the RIP reverses after it; then `at`, `offset` and the margins
/// are mirrored so that the printed sheet comes out as asked (DESIGN rule 8). Whatever `by` says, ink must lie inside the live area.
PlaceResult place(PlaceSubject const& subject, Sheet const& sheet, PlacementWish const& wish, bool reverse, bool reverses_later,
                  Unit unit);

/// The live area as the file must keep it: mirrored across the sheet's vertical middle where somebody reverses later.
Rect<SheetSpace> live_area_of_file(Sheet const& sheet, bool reverses_later);

}  // namespace layright
