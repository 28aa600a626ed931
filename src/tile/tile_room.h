// What one sheet of a target takes of art that is parted.
#pragma once
#include "sheet/target.h"
#include "tile/tile_plan.h"

namespace layright {

/// In points of the art as seen, which is laid at `scale`. `overlap` and `rim` are lengths on the sheet.
TileRoom tile_room(Target const& target, double scale, Length overlap, Length rim);

/// The same by which `check` tells how many sheets art would take that is too large for one: cut on the marks and butted.
int tiles_for_too_large(double width, double height, Target const& target);

inline constexpr int kMostTiles = 100;  // of one page. Our own

}  // namespace layright
