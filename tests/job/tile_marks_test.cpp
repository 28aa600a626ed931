// Marks and labels of parts: in the live area, outside the art, and where each cut is.
#include "job/tile_marks.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace layright;

namespace {

Rect<SheetSpace> const kLive{18, 18, 594, 1206};
Rect<SeenSpace> const kWhole{0, 0, 3000, 400};

Placement placed(bool reversed_later = false) {
  Placement p;  // turned by a quarter, mirrored, in the middle
  p.matrix = {0, -1, -1, 0, 506, 1112};
  p.reversed = true;
  p.reversed_later = reversed_later;
  return p;
}

Tile part(double x0, double x1) {
  Tile tile;
  tile.between_cuts = tile.area = {x0, 0, x1, 400};
  return tile;
}

}  // namespace

TEST_CASE("Each cut has a mark at both ends, and the art's own ends have none") {
  auto const placement = placed();
  CHECK(tile_marks(part(0, 1000), kWhole, placement, kLive, {true, {}}).size() == 2);
  auto const both = tile_marks(part(10, 1000), kWhole, placement, kLive, {true, {}});
  CHECK(both.size() == 4);
  auto const art = placement.matrix.apply(part(10, 1000).area);
  for (auto const& mark : both) {
    CHECK(kLive.contains(mark.extents()));
    CHECK_FALSE(intersection(mark.extents(), art).has_value());
    // It goes on in line with the cut, which lies across the sheet here.
    auto const& line = mark.lines.at(0);
    CHECK(std::abs(line.front().y - line.back().y) < 1e-9);
    CHECK((std::abs(line.front().y - art.y0) < 1e-9 || std::abs(line.front().y - art.y1) < 1e-9));
  }
}

TEST_CASE("Where neighbors overlap the marks stand at the cut, not at the end of what is shown") {
  auto tile = part(0, 1000);
  tile.area.x1 = 1020;
  auto const placement = placed();
  auto const marks = tile_marks(tile, kWhole, placement, kLive, {true, {}});
  REQUIRE(marks.size() == 2);
  CHECK(std::abs(marks[0].lines[0][0].y - placement.matrix.apply(Point<SeenSpace>{1000, 0}).y) < 1e-9);
}

TEST_CASE("A label has room beside the art, or is left out") {
  auto const placement = placed();
  auto const marks = tile_marks(part(10, 1000), kWhole, placement, kLive, {true, "2 of 4, left"});
  REQUIRE(marks.size() == 5);
  auto const label = marks.back().extents();
  CHECK(kLive.contains(label));
  CHECK_FALSE(intersection(label, placement.matrix.apply(part(10, 1000).area)).has_value());
  for (std::size_t i = 0; i < 4; ++i) CHECK_FALSE(intersection(label, marks[i].extents()).has_value());
  // Art that fills its sheet: no room for anything.
  Placement filled;
  filled.matrix = {1, 0, 0, 1, 18, 18};
  Tile all;
  all.between_cuts = all.area = {0, 0, 576, 1188};
  CHECK(tile_marks(all, {0, 0, 1000, 1188}, filled, kLive, {true, "1 of 2, left"}).empty());
}

TEST_CASE("Whoever reverses later finds the label mirrored") {
  auto const here = tile_marks(part(0, 1000), kWhole, placed(), kLive, {false, "1 of 3, left"});
  auto const later = tile_marks(part(0, 1000), kWhole, placed(true), kLive, {false, "1 of 3, left"});
  REQUIRE((here.size() == 1 && later.size() == 1));
  auto const box = here[0].extents();
  auto const& straight = here[0].lines[0][0];
  auto const& mirrored = later[0].lines[0][0];
  CHECK(std::abs((straight.x - box.x0) - (later[0].extents().x1 - mirrored.x)) < 1e-9);
  CHECK(straight.y == mirrored.y);
}
