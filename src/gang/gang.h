// Several pieces of art on as few sheets as can be: values in, values out. Knows nothing of PDF.
#pragma once
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "geometry/turn.h"
#include "sheet/gang_options.h"

namespace layright {

class InkShape;

/// One copy of one page.
struct GangPiece {
  double width = 0, height = 0;  // of its ink as it would be printed unturned, in points
  PieceTurns turns = PieceTurns::quarter;
  std::shared_ptr<InkShape const> shape = {};  // of its ink, for Cuts::shape
};

struct GangRules {
  double width = 0, height = 0;  // of the live area, in points
  double gap = 18;               // that stays free between two pieces, in points
  Cuts cuts = Cuts::straight;
  /// So hard it is tried to do better than the first arrangements: the same number always gives the same sheets.
  int effort = 3000;
};

/// Where a piece lies: the lower left corner of its ink in the live area, after the turn, in points.
struct GangSlot {
  std::size_t piece = 0;
  int sheet = 0;  // from 0
  double x = 0, y = 0;
  Turn turn = Turn::none;
  bool operator==(GangSlot const&) const = default;
};

struct GangLayout {
  int sheets = 0;
  int bound = 0;                // no arrangement needs fewer
  std::vector<GangSlot> slots;  // one a piece, in the order of the pieces
};

/// Fewest sheets first, then the last sheet as empty as can be, with what is left of it in one block. Nothing where a piece fits no sheet: see
/// fits_sheet.
std::optional<GangLayout> arrange_gang(std::vector<GangPiece> const& pieces, GangRules const& rules);

/// Whether a piece fits the live area in one of the turns that it may have.
bool fits_sheet(GangPiece const& piece, GangRules const& rules);

/// So many pieces at most: beyond that an order is a slip of the finger.
inline constexpr std::size_t kMostPieces = 10000;

}  // namespace layright
