// Art larger than the sheet, parted over as few sheets as can be: in columns first, then each column in rows.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"
#include "tile/cut_map.h"

namespace layright {

/// What one sheet takes, in points of the art as seen.
struct TileRoom {
  double width = 0, height = 0;        // of the live area, the sheet upright
  double overlap = 0;                  // of neighbors: both print it
  double rim = 0;                      // that marks want beside the art, on each side
  bool upright = true, turned = true;  // how a piece may lie: as seen; turned by a quarter
  bool mirrored = false;               // the goods show the art mirrored
};

struct Tile {
  int column = 1, row = 1;  // from 1, as on the goods: from the left, from the top
  int rows = 1;             // of its column
  Rect<SeenSpace> between_cuts;
  Rect<SeenSpace> area;  // with what overlaps: all that its sheet shows
};

struct TilePlan {
  bool turned = false;    // on the sheet, by a quarter
  bool mirrored = false;  // the goods show the art mirrored, for it came so: its right is their left
  bool rim = true;        // every sheet has room for marks
  int columns = 1;
  std::vector<Tile> tiles;  // in the order in which they are pressed: column by column from the left, each from its top
  double cost = 0;          // of all cuts (cut_map.h)
  int bound = 1;            // no way of parting the art into upright pieces, one a sheet, needs fewer
};

/// How many sheets art of this size takes; 0 where the overlap leaves nothing of the sheet.
int fewest_tiles(double width, double height, TileRoom const& room);

/// A map of a part of the art at kFinerCutMapDpi; nothing where it cannot be drawn.
using FinerMap = std::function<std::optional<CutMap>(Rect<SeenSpace> const& part)>;

/// `map` covers `art`. Of the ways that a piece may lie the one with the fewest sheets, then the one with the cheapest cuts, then upright. Room for
/// marks is kept where that takes no sheet more. Where the sheets leave little choice, and what `map` shows of it would all be cut, `finer` is
/// asked for what lies there. Requires fewest_tiles() of art and room >= 1.
TilePlan plan_tiles(Rect<SeenSpace> const& art, CutMap const& map, TileRoom const& room, FinerMap const& finer = {});

/// No fewer sheets do: by the ink there is, and by places with ink of which no two can lie on one sheet.
int tile_bound(Rect<SeenSpace> const& art, CutMap const& map, TileRoom const& room);

/// Where it lies on the goods: "left", "top right", "column 3, row 2"; empty of the only one.
std::string tile_position(Tile const& tile, int columns);

}  // namespace layright
