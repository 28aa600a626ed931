// What a refused placement tells the shop.
#pragma once
#include <vector>

#include "place/axis.h"
#include "place/place.h"

namespace layright {

/// What was tried, for the turn that came nearest.
struct Attempt {
  Axis x, y;
  Turn turn = Turn::none;
  double scale = 1;
  std::vector<Span> fitting;  // the scales that would fit, the lowest first
  bool mirrored = false;      // somebody reverses later: the file's left is the printed sheet's right
  /// The largest scale that would fit, 0: none.
  double largest() const { return fitting.empty() ? 0 : fitting.back().hi; }
};

/// `blank`: there is no ink, and it is the rectangle that does not fit the sheet. `other_turn`: a turn that would do, where the options
/// asked for another.
PlaceRefusal refuse(Attempt const& attempt, Sheet const& sheet, PlacementOptions const& options, bool blank, std::optional<Turn> other_turn,
                    Unit unit);

}  // namespace layright
