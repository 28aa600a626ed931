// Whole plans on small maps: against every way of cutting, and by what must hold of any plan.
#include "tile/tile_plan.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <random>

namespace layright {
namespace {

using Catch::Matchers::WithinAbs;

constexpr double kSamePlan = 1e-6;

CutMap blank_map(int width, int height) {
  std::vector<std::uint8_t> const none(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
  return {width, height, none, none, none};
}

CutMap speckled(int width, int height, std::mt19937& random) {
  auto map = blank_map(width, height);
  std::uniform_int_distribution<int> byte(0, 255);
  for (auto* plane : {&map.ink, &map.right, &map.below})
    for (auto& v : *plane) v = static_cast<std::uint8_t>(byte(random));
  return map;
}

/// A picture of one color everywhere.
PagePicture flat_picture(int width, int height, std::uint8_t red, std::uint8_t green, std::uint8_t blue, std::uint8_t alpha) {
  PagePicture picture{width, height, 72, {0, 0, static_cast<double>(width), static_cast<double>(height)}, {}, {}};
  for (int i = 0; i < width * height; ++i) {
    picture.rgb.insert(picture.rgb.end(), {red, green, blue});
    picture.alpha.push_back(alpha);
  }
  return picture;
}

/// What cutting from top to bottom at `x` costs, summed anew.
double cost_by_hand(CutMap const& map, int x) {
  double sum = 0;
  for (int column : {x - 1, x})
    for (int y = 0; y < map.height; ++y) {
      auto const pixel = static_cast<std::size_t>(y * map.width + column);
      sum += (map.ink[pixel] + (y + 1 < map.height ? 2 * map.below[pixel] : 0)) / 255.0 / 2;
    }
  return sum;
}

}  // namespace

TEST_CASE("What a cut costs, summed by hand") {
  std::mt19937 random(Catch::rngSeed());
  auto const map = speckled(13, 9, random);
  auto const costs = costs_across(map, 0, map.height);
  REQUIRE(costs.size() == 14);
  for (int x = 1; x < 13; ++x) CHECK_THAT(costs[static_cast<std::size_t>(x)], WithinAbs(cost_by_hand(map, x), kSamePlan));
  // Turned by a quarter, columns are rows.
  CutMap turned = blank_map(9, 13);
  for (int y = 0; y < 9; ++y)
    for (int x = 0; x < 13; ++x) {
      auto const from = static_cast<std::size_t>(y * 13 + x), to = static_cast<std::size_t>(x * 9 + y);
      turned.ink[to] = map.ink[from];
      turned.right[to] = map.below[from];
    }
  auto const rows = costs_down(turned, 0, 9);
  for (std::size_t i = 0; i < costs.size(); ++i) CHECK_THAT(rows[i], WithinAbs(costs[i], kSamePlan));
}

TEST_CASE("What counts as ink on the map") {
  Rect<SeenSpace> const art{0, 0, 20, 10};
  Matrix<SeenSpace, SeenSpace> const as_it_is;
  auto const ink = [&](PagePicture const& picture, bool white_prints) { return int{cut_map(picture, art, as_it_is, 10, 5, white_prints).ink[0]}; };
  CHECK(ink(flat_picture(20, 10, 0, 0, 0, 255), false) == 255);
  CHECK(ink(flat_picture(20, 10, 255, 255, 0, 255), false) == 255);  // yellow
  CHECK(ink(flat_picture(20, 10, 255, 255, 255, 255), false) == 0);
  CHECK(ink(flat_picture(20, 10, 255, 255, 255, 255), true) == 255);
  CHECK(ink(flat_picture(20, 10, 0, 0, 0, 0), false) == 0);
  CHECK(ink(flat_picture(20, 10, 0, 0, 0, 128), false) == 128);
}

TEST_CASE("The map shows the art as it lies, turned or not") {
  // Black on the left half of the picture.
  auto picture = flat_picture(40, 20, 0, 0, 0, 255);
  for (int y = 0; y < 20; ++y)
    for (int x = 20; x < 40; ++x) picture.alpha[static_cast<std::size_t>(y * 40 + x)] = 0;
  auto const straight = cut_map(picture, {0, 0, 40, 20}, {}, 4, 2, false);
  CHECK(straight.ink == std::vector<std::uint8_t>{255, 255, 0, 0, 255, 255, 0, 0});
  CHECK(straight.right == std::vector<std::uint8_t>{0, 255, 0, 0, 0, 255, 0, 0});
  CHECK(straight.below == std::vector<std::uint8_t>(8, 0));
  // The art is 20 wide and 40 high; its page was turned by a quarter counterclockwise: what is on the picture's left is the art's top.
  auto const turned = cut_map(picture, {0, 0, 20, 40}, {0, 1, -1, 0, 40, 0}, 2, 4, false);
  CHECK(turned.ink == std::vector<std::uint8_t>{255, 255, 255, 255, 0, 0, 0, 0});
}

TEST_CASE("How few sheets") {
  TileRoom const room{576, 1188, 0, 12};  // 8.5 x 17 in, less a quarter inch on each side
  CHECK(fewest_tiles(576, 1188, room) == 1);
  CHECK(fewest_tiles(1188, 576, room) == 1);
  CHECK(fewest_tiles(2880, 400, room) == 3);  // 40 in long
  CHECK(fewest_tiles(2376, 576, room) == 2);  // exactly two
  CHECK(fewest_tiles(2377, 576, room) == 3);
  CHECK(fewest_tiles(2376, 1152, room) == 4);  // 2 by 2, turned
  TileRoom upright = room;
  upright.turned = false;
  CHECK(fewest_tiles(2880, 400, upright) == 5);
  TileRoom overlapping = room;
  overlapping.overlap = 1200;
  CHECK(fewest_tiles(2880, 400, overlapping) == 0);
}

TEST_CASE("Whatever the art, its tiles fit their sheets, join, and are as few as can be") {
  std::mt19937 random(Catch::rngSeed());
  std::uniform_real_distribution<double> side(100, 3000), origin(-500, 500), overlap(0, 60);
  for (int i = 0; i < 150; ++i) {
    TileRoom room{576, 1188, i % 3 == 0 ? 0 : overlap(random), i % 2 == 0 ? 12.0 : 0.0};
    room.turned = i % 5 != 0;
    Rect<SeenSpace> const art = [&] {
      double const x = origin(random), y = origin(random);
      return Rect<SeenSpace>{x, y, x + side(random), y + side(random)};
    }();
    auto const map = speckled(std::max(2, static_cast<int>(art.width() / 20)), std::max(2, static_cast<int>(art.height() / 20)), random);
    auto const plan = plan_tiles(art, map, room);
    CAPTURE(art.width(), art.height(), room.overlap, plan.columns, plan.tiles.size());
    CHECK(static_cast<int>(plan.tiles.size()) == fewest_tiles(art.width(), art.height(), room));
    CHECK(plan.bound >= 1);
    CHECK(plan.bound <= static_cast<int>(plan.tiles.size()));
    double area = 0;
    for (auto const& tile : plan.tiles) {
      double const wide = plan.turned ? tile.area.height() : tile.area.width(), high = plan.turned ? tile.area.width() : tile.area.height();
      double const rim_x = plan.rim && plan.tiles.size() > 1 && (plan.turned ? plan.columns > 1 : tile.rows > 1) ? 2 * room.rim : 0;
      double const rim_y = plan.rim && plan.tiles.size() > 1 && (plan.turned ? tile.rows > 1 : plan.columns > 1) ? 2 * room.rim : 0;
      CHECK(wide + rim_x <= room.width + kSamePlan);
      CHECK(high + rim_y <= room.height + kSamePlan);
      CHECK(art.contains(tile.area, kSamePlan));
      CHECK(tile.area.contains(tile.between_cuts, kSamePlan));
      area += tile.between_cuts.area();
    }
    CHECK_THAT(area, WithinAbs(art.area(), 1e-6 * art.area()));
    for (std::size_t a = 0; a < plan.tiles.size(); ++a)
      for (std::size_t b = a + 1; b < plan.tiles.size(); ++b)
        if (auto const both = intersection(plan.tiles[a].between_cuts, plan.tiles[b].between_cuts)) CHECK(both->area() <= kSamePlan);
  }
}

TEST_CASE("Cut where there is nothing") {
  // Two columns of ink with a gap, not where the sheet ends.
  auto map = blank_map(90, 20);
  for (int y = 0; y < 20; ++y)
    for (int x = 0; x < 90; ++x)
      if (x < 35 || x > 55) map.ink[static_cast<std::size_t>(y * 90 + x)] = 255;
  auto const plan = plan_tiles({0, 0, 1800, 400}, map, {576, 1188, 0, 12});
  REQUIRE(plan.tiles.size() == 2);
  CHECK(plan.cost == 0);
  CHECK(plan.turned);
  double const cut = plan.tiles[0].area.x1;
  CHECK(cut > 35 * 20);
  CHECK(cut < 56 * 20);
  CHECK(tile_position(plan.tiles[0], plan.columns) == "left");
  CHECK(tile_position(plan.tiles[1], plan.columns) == "right");
}

TEST_CASE("Art that came mirrored is counted from the left of the goods") {
  auto const map = blank_map(144, 60);
  TileRoom room{576, 1188, 0, 12};
  auto const as_seen = plan_tiles({0, 0, 2880, 1200}, map, room);
  room.mirrored = true;
  auto const on_goods = plan_tiles({0, 0, 2880, 1200}, map, room);
  REQUIRE(as_seen.columns > 1);
  REQUIRE(as_seen.tiles.size() == on_goods.tiles.size());
  CHECK(on_goods.tiles.front().column == 1);
  CHECK(on_goods.tiles.front().area.x1 == 2880);
  CHECK(on_goods.tiles.front().area.y1 == 1200);
  CHECK(on_goods.tiles.back().area.x0 == 0);
  for (std::size_t i = 1; i < on_goods.tiles.size(); ++i) CHECK(on_goods.tiles[i - 1].column <= on_goods.tiles[i].column);
}

TEST_CASE("The bound is what no arrangement can go below") {
  auto map = blank_map(288, 40);
  std::ranges::fill(map.ink, 255);
  CHECK(tile_bound({0, 0, 2880, 400}, map, {576, 1188, 0, 12}) == 3);
  // Only its two ends have ink: two sheets would do.
  auto ends = blank_map(288, 40);
  for (int y = 0; y < 40; ++y) ends.ink[static_cast<std::size_t>(y * 288)] = ends.ink[static_cast<std::size_t>(y * 288 + 287)] = 255;
  CHECK(tile_bound({0, 0, 2880, 400}, ends, {576, 1188, 0, 12}) == 2);
  CHECK(tile_bound({0, 0, 2880, 400}, blank_map(288, 40), {576, 1188, 0, 12}) == 1);
}

TEST_CASE("Where a tile lies, in words") {
  auto const at = [](int column, int columns, int row, int rows) {
    Tile tile;
    tile.column = column;
    tile.row = row;
    tile.rows = rows;
    return tile_position(tile, columns);
  };
  CHECK(at(1, 1, 1, 1).empty());
  CHECK(at(1, 2, 1, 1) == "left");
  CHECK(at(2, 3, 1, 1) == "middle");
  CHECK(at(2, 2, 1, 2) == "top right");
  CHECK(at(1, 1, 2, 2) == "bottom");
  CHECK(at(2, 3, 2, 3) == "middle");
  CHECK(at(1, 2, 2, 3) == "middle left");
  CHECK(at(4, 5, 1, 1) == "column 4");
  CHECK(at(4, 5, 2, 2) == "column 4, row 2");
}

TEST_CASE("a gap too narrow for the coarse map is found where the sheets leave little choice") {
  // 2,364 points on two sheets of 1,188 leave 12 points to choose from; ink everywhere but for two points.
  Rect<SeenSpace> const art{0, 0, 500, 2364};
  double const gap = GENERATE(1178.0, 1181.0, 1186.0);  // from the top
  auto map = blank_map(250, 1182);
  std::ranges::fill(map.ink, std::uint8_t{255});
  int asked = 0;
  auto const finer = [&](Rect<SeenSpace> const& part) -> std::optional<CutMap> {
    ++asked;
    auto fine = blank_map(static_cast<int>(part.width()), static_cast<int>(part.height()));
    for (int y = 0; y < fine.height; ++y) {
      double const from_top = art.y1 - (part.y1 - (y + 0.5));
      if (std::abs(from_top - gap) > 1)
        for (int x = 0; x < fine.width; ++x) fine.ink[static_cast<std::size_t>(y * fine.width + x)] = 255;
    }
    return fine;
  };
  auto const plan = plan_tiles(art, map, {576, 1188, 0, 0}, finer);
  REQUIRE(plan.tiles.size() == 2);
  CHECK_THAT(art.y1 - plan.tiles[0].between_cuts.y0, WithinAbs(gap, 0.6));
  CHECK(asked == 1);
  // Where a cut may lie anywhere nobody is asked.
  std::ranges::fill(map.ink, std::uint8_t{0});
  plan_tiles(art, map, {576, 1188, 0, 0}, finer);
  CHECK(asked == 1);
}

}  // namespace layright
