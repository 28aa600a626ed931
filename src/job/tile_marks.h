// What is drawn beside the parts of art that goes over several sheets: where to cut, and which part it is.
#pragma once
#include <string>
#include <vector>

#include "place/place.h"
#include "tile/tile_plan.h"
#include "write/sheet_marks.h"

namespace layright {

/// Of one part of `art` as it lies on its sheet. All outside the art and inside `live`; what has no room there is left out.
struct TileMarksWanted {
  bool cuts = true;   // a line at both ends of each cut
  std::string label;  // empty: none
};
std::vector<SheetMark> tile_marks(Tile const& tile, Rect<SeenSpace> const& art, Placement const& placement, Rect<SheetSpace> const& live,
                                  TileMarksWanted const& wanted);

/// How much the art must leave free on a side for them.
inline constexpr double kTileRim = 14;  // points

}  // namespace layright
