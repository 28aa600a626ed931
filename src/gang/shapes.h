// Pieces by the outline of their ink: into each other's hollows.
#pragma once
#include "gang/gang.h"

namespace layright {

/// Each piece must have a shape and fit the live area. The bound is by the ink's area alone.
GangLayout arrange_shapes(std::vector<GangPiece> const& pieces, GangRules const& rules);

}  // namespace layright
