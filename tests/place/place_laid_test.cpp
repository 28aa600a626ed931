// A page that was laid before: DESIGN part 4, "Laid again". Figures worked by hand.
#include "place/place_laid.h"

#include <catch2/catch.hpp>

using namespace layright;

namespace {

PlaceSubject const kArt{Rect<SeenSpace>{100, 100, 400, 600}, {0, 0, 612, 792}, {0, 0, 612, 792}};

Target target_of(double width = 612, double length = 1224) {
  Target t;
  t.sheet.name = "film";
  t.sheet.width = Length::points(width);
  t.sheet.length = Length::points(length);
  t.sheet.margins = Margins::all(Length::points(18));
  return t;
}

Placement placed(PlaceResult const& result) {
  REQUIRE(std::holds_alternative<Placement>(result));
  return std::get<Placement>(result);
}

/// What is written of a page laid for `target`.
LayRecord laid(Target const& target, bool reverse = false) {
  auto const p = placed(place_for(target, target.placement, kArt, reverse, Unit::inch));
  LayRecord r;
  r.holds = true;
  r.sheet = target.sheet.page();
  r.placement = p.matrix;
  r.correction = p.correction;
  r.scale = p.scale;
  r.turn = p.turn;
  r.reversed = p.reversed;
  r.reversed_later = p.reversed_later;
  return r;
}

Target half_at_the_corner() {
  auto t = target_of();
  t.placement.scale = PlacementOptions::Scale::percent;
  t.placement.percent = 50;
  t.placement.turn = Turn::quarter;
  t.placement.at = Anchor::top_left;
  return t;
}

}  // namespace

TEST_CASE("with nothing asked a laid page stays as it is, to the last digit, whatever the configuration says") {
  auto const record = laid(half_at_the_corner());
  auto other = target_of();
  other.placement.scale = PlacementOptions::Scale::fit;
  other.placement.at = Anchor::bottom;
  auto const p = placed(place_laid(record, other, kArt, false, Unit::inch));
  CHECK(p.matrix == record.placement);
  CHECK(p.scale == 0.5);
  CHECK(p.turn == Turn::quarter);
}

TEST_CASE("a scale that is asked counts from the source; a turn or a place that is asked leaves the size") {
  auto const record = laid(half_at_the_corner());
  auto t = target_of();
  t.placement.scale = PlacementOptions::Scale::percent;
  t.placement.percent = 80;
  t.placement.asked.size = true;
  auto const scaled = placed(place_laid(record, t, kArt, false, Unit::inch));
  CHECK(scaled.scale == 0.8);
  CHECK(scaled.ink->width() == Approx(240));
  t = target_of();
  t.placement.turn = Turn::none;
  t.placement.asked.turn = true;
  auto const turned = placed(place_laid(record, t, kArt, false, Unit::inch));
  CHECK(turned.scale == 0.5);
  CHECK(turned.turn == Turn::none);
  t = target_of();
  t.placement.at = Anchor::bottom;
  t.placement.asked.place = true;
  auto const moved = placed(place_laid(record, t, kArt, false, Unit::inch));
  CHECK(moved.scale == 0.5);
  CHECK(moved.turn == Turn::quarter);
  CHECK(moved.ink->y0 == Approx(18));
}

TEST_CASE("on another sheet, or where it would lie in the margin, a laid page keeps its size and is placed anew") {
  auto const record = laid(half_at_the_corner());
  auto const wide = placed(place_laid(record, target_of(900, 1368), kArt, false, Unit::inch));
  CHECK(wide.scale == 0.5);
  CHECK(wide.ink->centre().x == Approx(450));
  auto careful = target_of();
  careful.sheet.margins = Margins::all(Length::points(36));
  auto const moved = placed(place_laid(record, careful, kArt, false, Unit::inch));
  CHECK(moved.scale == 0.5);
  CHECK(careful.sheet.live_area().contains(*moved.ink, 1e-6));
}

TEST_CASE("whoever reverses now, the printed sheet stays the same") {
  for (auto const turn : {Turn::none, Turn::quarter, Turn::half, Turn::three_quarters}) {
    auto first = half_at_the_corner();
    first.placement.turn = turn;
    auto const record = laid(first, true);
    auto later = target_of();
    later.reverse_at = ReverseAt::printer;
    auto const p = placed(place_laid(record, later, kArt, false, Unit::inch));
    CHECK(p.reversed_later);
    for (auto const corner : {Point<SeenSpace>{100, 100}, Point<SeenSpace>{400, 600}, Point<SeenSpace>{400, 100}}) {
      auto const was = record.placement.apply(corner), now = p.matrix.apply(corner);
      CHECK(612 - now.x == Approx(was.x));
      CHECK(now.y == Approx(was.y));
    }
  }
}
