// Pieces by the outline of their ink: into each other's hollows.
#pragma once
#include "gang/gang.h"

namespace layright {

/// By the area of the ink alone.
int fewest_sheets_of_shapes(std::vector<GangPiece> const& pieces, GangRules const& rules);

/// Each piece must have a shape, and there must be one; the bound is left open. Nothing where the cells of a piece fit no sheet.
std::optional<GangLayout> arrange_shapes(std::vector<GangPiece> const& pieces, GangRules const& rules);

}  // namespace layright
