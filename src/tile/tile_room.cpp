#include "tile/tile_room.h"

#include "place/correction.h"

namespace layright {

TileRoom tile_room(Target const& target, double scale, Length overlap, Length rim) {
  auto const printed = live_area_of_file(target);
  auto const back = correction_of(target).inverted();
  auto const live = back ? back->apply(printed) : printed;  // art is placed before the press's stretch is undone
  auto const turn = target.placement.turn;
  bool const turned = turn && swaps_sides(*turn);
  return {live.width() / scale, live.height() / scale, overlap.in_points() / scale, rim.in_points() / scale, !turn || !turned, !turn || turned};
}

int tiles_for_too_large(double width, double height, Target const& target) {
  auto room = tile_room(target, 1, Length(), Length());
  room.upright = true;  // as it was tried on the sheet
  room.turned = !target.placement.turn;
  int const tiles = fewest_tiles(width, height, room);
  return tiles > kMostTiles ? 0 : tiles;
}

}  // namespace layright
