#include "tile/tile_plan.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace layright {
namespace {

/// One direction of the art with one way of lying: how many pieces, and how long they may be.
struct Direction {
  LineToCut line;
  int pieces = 0;
};

Direction direction_of(double length, double longest, double overlap) {
  LineToCut const line{length, longest, overlap};
  return {line, fewest_pieces(line)};
}

struct Grid {
  Direction across, down;
  bool turned = false;
  int sheets() const { return across.pieces * down.pieces; }
};

/// `rim`: points kept for marks. Marks of cuts between columns stand above and below the art, those between rows beside it.
Grid grid_of(double width, double height, TileRoom const& room, bool turned, double rim) {
  double const wide = turned ? room.height : room.width, high = turned ? room.width : room.height;
  Grid grid{direction_of(width, wide, room.overlap), direction_of(height, high, room.overlap), turned};
  if (rim <= 0) return grid;
  bool const columns = grid.across.pieces > 1, rows = grid.down.pieces > 1;
  if (rows) grid.across = direction_of(width, wide - 2 * rim, room.overlap);
  if (columns) grid.down = direction_of(height, high - 2 * rim, room.overlap);
  return grid;
}

/// The ways that may be, each with the room for marks that it can have; only those with the fewest sheets.
struct GridWithRim {
  Grid grid;
  bool rim = true;
};
std::vector<GridWithRim> best_grids(double width, double height, TileRoom const& room) {
  std::vector<GridWithRim> grids;
  for (bool const turned : {false, true}) {
    if (!(turned ? room.turned : room.upright)) continue;
    auto const bare = grid_of(width, height, room, turned, 0), rimmed = grid_of(width, height, room, turned, room.rim);
    if (bare.sheets() < 1) continue;
    bool const rim = rimmed.sheets() == bare.sheets() && rimmed.across.pieces == bare.across.pieces;
    grids.push_back({rim ? rimmed : bare, rim});
  }
  if (grids.empty()) return grids;
  auto const fewest = std::ranges::min_element(grids, {}, [](auto const& g) { return g.grid.sheets(); })->grid.sheets();
  std::erase_if(grids, [&](auto const& g) { return g.grid.sheets() > fewest; });
  // A sheet without marks is only put up with where there is no other way.
  if (std::ranges::any_of(grids, &GridWithRim::rim)) std::erase_if(grids, [](auto const& g) { return !g.rim; });
  return grids;
}

/// From one end to the other, with 0 and the length.
std::vector<double> ends_of(LineCuts const& cuts, double length) {
  std::vector<double> ends{0};
  ends.insert(ends.end(), cuts.at.begin(), cuts.at.end());
  ends.push_back(length);
  return ends;
}

/// Of two places that cost the same the one farther from ink: no knife keeps to a hair. So what lies around a cut costs a little, too.
LineCuts cut(Direction const& direction, CutCosts const& costs, double steps_an_inch) {
  constexpr double kAround = 10 / kCutMapDpi, kOfWhatIsAround = 0.05;  // inches; a share
  double const band = direction.line.overlap / direction.line.length * static_cast<double>(costs.size() - 1);
  auto const met = over_band(costs, band), around = over_band(costs, std::max(band, kAround * steps_an_inch));
  auto all = met;
  for (std::size_t i = 0; i < all.size(); ++i) all[i] += kOfWhatIsAround * around[i];
  auto cuts = cheapest_cuts(direction.line, direction.pieces, all);
  to_middle_of_gaps(cuts, direction.line, met, kAround * 72 / 2);
  return cuts;
}

/// A part of the art in which cuts of one direction are looked for.
struct CutField {
  Rect<SeenSpace> area;
  bool across = true;  // cuts from top to bottom; else from left to right
  CutCosts costs(CutMap const& map) const { return across ? costs_across(map, 0, map.height) : costs_down(map, 0, map.width); }
  Rect<SeenSpace> strip(double from, double to) const {  // along the direction, as LineToCut counts
    auto part = area;
    if (across) part.x0 = area.x0 + from, part.x1 = area.x0 + to;
    else part.y1 = area.y1 - from, part.y0 = area.y1 - to;
    return part;
  }
};

/// Costs of the places where a cut may lie, by finer maps of these alone; empty where one cannot be drawn.
CutCosts finer_costs(Direction const& direction, CutField const& field, FinerMap const& finer) {
  constexpr double kStep = 72 / kFinerCutMapDpi, kBeside = 10;  // points
  auto const& line = direction.line;
  CutCosts costs(static_cast<std::size_t>(std::ceil(line.length / kStep)) + 1, 0);
  for (int number = 2; number <= direction.pieces; ++number) {
    auto const range = cut_range(line, direction.pieces, number);
    double const from = std::max(0.0, range.lo - line.overlap - kBeside), to = std::min(line.length, range.hi + line.overlap + kBeside);
    auto const map = finer(field.strip(from, to));
    if (!map) return {};
    auto const seen = field.costs(*map);
    for (std::size_t i = 0; i < costs.size(); ++i)
      if (double const at = line.length * static_cast<double>(i) / static_cast<double>(costs.size() - 1); at >= from && at <= to)
        costs[i] = cost_at(seen, to - from, at - from) * kCutMapDpi / kFinerCutMapDpi;  // a pixel is so much shorter
  }
  return costs;
}

/// Looks finer where all that the coarse map offers would be cut: a gap narrower than its pixels does not show there.
LineCuts cut_finely(Direction const& direction, CutCosts const& costs, CutField const& field, FinerMap const& finer) {
  constexpr double kMeetsInk = 0.5;       // pixels of the coarse map
  constexpr double kLargestShare = 0.15;  // of the art: where more can be cut there is a gap that shows, and drawing it all costs too much
  auto const cuts = cut(direction, costs, kCutMapDpi);
  double meets = 0;
  for (double const at : cuts.at) meets += cost_at(costs, direction.line.length, at);
  if (!finer || meets < kMeetsInk || length_of_ranges(direction.line, direction.pieces) > kLargestShare * direction.line.length) return cuts;
  auto const fine = finer_costs(direction, field, finer);
  return fine.empty() ? cuts : cut(direction, fine, kFinerCutMapDpi);
}

TilePlan tiles_of(Rect<SeenSpace> const& art, CutMap const& map, GridWithRim const& way, FinerMap const& finer) {
  auto const& [grid, rim] = way;
  TilePlan plan;
  plan.turned = grid.turned;
  plan.rim = rim;
  plan.columns = grid.across.pieces;
  auto const columns = cut_finely(grid.across, costs_across(map, 0, map.height), {art, true}, finer);
  plan.cost = columns.cost;
  auto const x = ends_of(columns, art.width());
  double const half = grid.across.line.overlap / 2;
  for (std::size_t c = 0; c + 1 < x.size(); ++c) {
    auto const pixel = [&](double at) { return std::clamp(static_cast<int>(std::lround(at / art.width() * map.width)), 0, map.width); };
    CutField const column{{art.x0 + x[c], art.y0, art.x0 + x[c + 1], art.y1}, false};
    auto const rows = cut_finely(grid.down, costs_down(map, pixel(x[c]), pixel(x[c + 1])), column, finer);
    plan.cost += rows.cost;
    auto const y = ends_of(rows, art.height());
    for (std::size_t r = 0; r + 1 < y.size(); ++r) {
      Tile tile;
      tile.column = static_cast<int>(c) + 1;
      tile.row = static_cast<int>(r) + 1;
      tile.rows = grid.down.pieces;
      tile.between_cuts = {art.x0 + x[c], art.y1 - y[r + 1], art.x0 + x[c + 1], art.y1 - y[r]};
      // The art's own ends to the last digit, whatever adding and taking away has made of them.
      if (c + 2 == x.size()) tile.between_cuts.x1 = art.x1;
      if (r + 2 == y.size()) tile.between_cuts.y0 = art.y0;
      tile.area = *intersection(tile.between_cuts.grown(half), art);
      plan.tiles.push_back(tile);
    }
  }
  return plan;
}

struct InkedPixel {
  int x = 0, y = 0;
};

/// Whether ink at both places could lie on one sheet, so far apart in points.
bool may_share(double dx, double dy, TileRoom const& room) {
  bool const upright = room.upright && dx <= room.width && dy <= room.height;
  return upright || (room.turned && dx <= room.height && dy <= room.width);
}

/// Counts columns from the left of goods that show the art mirrored.
void seen_on_goods(TilePlan& plan) {
  plan.mirrored = true;
  for (auto& tile : plan.tiles) tile.column = plan.columns + 1 - tile.column;
  std::ranges::stable_sort(plan.tiles, {}, &Tile::column);
}

}  // namespace

int fewest_tiles(double width, double height, TileRoom const& room) {
  auto const grids = best_grids(width, height, room);
  return grids.empty() ? 0 : grids.front().grid.sheets();
}

TilePlan plan_tiles(Rect<SeenSpace> const& art, CutMap const& map, TileRoom const& room, FinerMap const& finer) {
  std::optional<TilePlan> best;
  for (auto const& way : best_grids(art.width(), art.height(), room))
    if (auto plan = tiles_of(art, map, way, finer); !best || plan.cost < best->cost - 1e-9) best = std::move(plan);
  if (room.mirrored) seen_on_goods(*best);
  best->bound = std::min(tile_bound(art, map, room), static_cast<int>(best->tiles.size()));
  return *best;
}

int tile_bound(Rect<SeenSpace> const& art, CutMap const& map, TileRoom const& room) {
  double const across = art.width() / map.width, down = art.height() / map.height;
  double area = 0;
  for (auto const ink : map.ink) area += ink / 255.0;
  area *= across * down;
  constexpr double kDrawnWider = 0.98;  // what is drawn may cover a little more than there is
  double const by_area = std::ceil(kDrawnWider * area / (room.width * room.height) - 1e-9);

  // Pixels in which there is surely ink, one after another as they come, each that can share a sheet with none of those before.
  constexpr int kSurelyInk = 32;
  std::vector<InkedPixel> apart;
  for (bool const by_columns : {false, true}) {
    std::vector<InkedPixel> taken;
    int const lines = by_columns ? map.width : map.height, along = by_columns ? map.height : map.width;
    for (int line = 0; line < lines; ++line)
      for (int at = 0; at < along; ++at) {
        InkedPixel const p = by_columns ? InkedPixel{line, at} : InkedPixel{at, line};
        if (map.ink[static_cast<std::size_t>(p.y) * static_cast<std::size_t>(map.width) + static_cast<std::size_t>(p.x)] < kSurelyInk) continue;
        auto const shares = [&](InkedPixel const& other) {
          double const dx = (std::abs(p.x - other.x) - 2) * across, dy = (std::abs(p.y - other.y) - 2) * down;
          return may_share(dx, dy, room);
        };
        if (std::none_of(taken.begin(), taken.end(), shares)) taken.push_back(p);
      }
    if (taken.size() > apart.size()) apart = taken;
  }
  return std::max({1, static_cast<int>(by_area), static_cast<int>(apart.size())});
}

std::string tile_position(Tile const& tile, int columns) {
  if (columns > 3 || tile.rows > 3) {
    std::string text = columns > 1 ? "column " + std::to_string(tile.column) : "";
    if (tile.rows > 1) text += (text.empty() ? "row " : ", row ") + std::to_string(tile.row);
    return text;
  }
  auto const word = [](int number, int count, char const* first, char const* last) {
    return std::string(count == 1 ? "" : number == 1 ? first : number == count ? last : "middle");
  };
  auto const down = word(tile.row, tile.rows, "top", "bottom"), across = word(tile.column, columns, "left", "right");
  if (down == "middle" && across == "middle") return down;
  return down + (down.empty() || across.empty() ? "" : " ") + across;
}

}  // namespace layright
