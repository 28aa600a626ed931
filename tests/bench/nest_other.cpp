#include "nest_other.h"

#define LIBNEST2D_GEOMETRIES_clipper
#define LIBNEST2D_OPTIMIZER_nlopt
#define LIBNEST2D_THREADING_std  // without it no second piece is placed
#include <cmath>
#include <ctime>
#include <libnest2d/libnest2d.hpp>

std::size_t sheets_by_libnest2d(std::vector<NestOutline> const& order, NestSheet const& sheet, bool quarter_turns_only, double& seconds) {
  using namespace libnest2d;
  auto const units = [](double points) { return static_cast<Coord>(std::llround(points * 1000)); };
  std::vector<Item> items;
  for (auto const& outline : order) {
    PolygonImpl polygon;  // clockwise and closed, as libnest2d wants it
    for (auto corner = outline.rbegin(); corner != outline.rend(); ++corner) polygon.Contour.push_back({units(corner->x), units(corner->y)});
    polygon.Contour.push_back(polygon.Contour.front());
    items.emplace_back(polygon);
  }
  NfpPlacer::Config placing;
  placing.parallel = false;
  if (quarter_turns_only) placing.rotations = {0.0, Pi / 2};
  auto const begun = std::clock();
  auto const sheets =
      nest<NfpPlacer, FirstFitSelection>(items, Box(units(sheet.width), units(sheet.height)), units(sheet.gap), NestConfig<>{placing});
  seconds += static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC;
  return sheets;
}
