#include "geometry/seen.h"

#include <catch2/catch.hpp>

using namespace layright;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double kSeenNoise = 1e-9;  // points; arithmetic only

/// Where a point of a w x h crop box, counted from its lower left, is seen after a clockwise turn: by hand from ISO 32000-1,
/// Table 30.
Point<SeenSpace> by_hand(Turn clockwise, double x, double y, double w, double h) {
  switch (clockwise) {
    case Turn::quarter: return {y, w - x};  // what was left is up
    case Turn::half: return {w - x, h - y};
    case Turn::three_quarters: return {h - y, x};  // what was right is up
    case Turn::none: break;
  }
  return {x, y};
}

void check_near(Point<SeenSpace> is, Point<SeenSpace> wanted) {
  CHECK_THAT(is.x, WithinAbs(wanted.x, kSeenNoise));
  CHECK_THAT(is.y, WithinAbs(wanted.y, kSeenNoise));
}

}  // namespace

TEST_CASE("a page is seen turned, scaled by its unit, and from the origin") {
  auto const clockwise = GENERATE(Turn::none, Turn::quarter, Turn::half, Turn::three_quarters);
  auto const [ox, oy] = GENERATE(table<double, double>({{0, 0}, {100, 50}, {-300, -20.5}, {-50, 700}}));
  auto const [w, h] = GENERATE(table<double, double>({{612, 1224}, {1368, 900}, {500, 500}}));
  double const unit = GENERATE(1.0, 2.0, 0.5, 10.0);
  CAPTURE(degrees(clockwise), ox, oy, w, h, unit);

  Rect<PageSpace> const crop{ox, oy, ox + w, oy + h};
  auto const seen = page_to_seen(crop, clockwise, unit);
  for (auto const& [x, y] : {std::pair{0.0, 0.0}, {w, 0.0}, {0.0, h}, {w, h}, {w / 4, h / 3}}) {
    auto const wanted = by_hand(clockwise, x, y, w, h);
    check_near(seen.apply(Point<PageSpace>{ox + x, oy + y}), {wanted.x * unit, wanted.y * unit});
  }

  auto const size = seen_size(crop, clockwise, unit);
  bool const on_its_side = clockwise == Turn::quarter || clockwise == Turn::three_quarters;
  CHECK(size.width == (on_its_side ? h : w) * unit);
  CHECK(size.height == (on_its_side ? w : h) * unit);

  auto const all = seen.apply(crop);
  CHECK_THAT(all.x0, WithinAbs(0, kSeenNoise));
  CHECK_THAT(all.y0, WithinAbs(0, kSeenNoise));
  CHECK_THAT(all.x1, WithinAbs(size.width, 1e-8));
  CHECK_THAT(all.y1, WithinAbs(size.height, 1e-8));
  CHECK_FALSE(seen.mirrors());
  CHECK(size.rect() == Rect<SeenSpace>{0, 0, size.width, size.height});
}

TEST_CASE("nothing that is seen depends on where the origin lies") {
  auto const clockwise = GENERATE(Turn::none, Turn::quarter, Turn::half, Turn::three_quarters);
  double const dx = GENERATE(take(10, random(-5000.0, 5000.0)));
  double const dy = GENERATE(take(5, random(-5000.0, 5000.0)));
  Rect<PageSpace> const crop{0, 0, 612, 792};
  Point<PageSpace> const point{100, 200};
  auto const here = page_to_seen(crop, clockwise, 1.5).apply(point);
  auto const there = page_to_seen(crop.moved(dx, dy), clockwise, 1.5).apply(Point<PageSpace>{point.x + dx, point.y + dy});
  check_near(there, here);
}

TEST_CASE("from the page to what is seen and back is where it began") {
  auto const clockwise = GENERATE(Turn::none, Turn::quarter, Turn::half, Turn::three_quarters);
  double const x = GENERATE(take(20, random(-1000.0, 1000.0)));
  double const y = GENERATE(take(3, random(-1000.0, 1000.0)));
  auto const seen = page_to_seen({-7, 13, 605, 805}, clockwise, 3);
  auto const back = seen.inverted();
  REQUIRE(back);
  auto const again = back->apply(seen.apply(Point<PageSpace>{x, y}));
  CHECK_THAT(again.x, WithinAbs(x, kSeenNoise));
  CHECK_THAT(again.y, WithinAbs(y, kSeenNoise));
}
