#include "geometry/rect.h"

#include <catch2/catch.hpp>
#include <limits>

#include "geometry/space.h"

using namespace layright;

TEST_CASE("any two opposite corners make the same rectangle") {  // ISO 32000-1, 7.9.5
  SeenRect const wanted{-10, 20, 30, 45};
  CHECK(SeenRect::from_corners(-10, 20, 30, 45) == wanted);
  CHECK(SeenRect::from_corners(30, 45, -10, 20) == wanted);
  CHECK(SeenRect::from_corners(-10, 45, 30, 20) == wanted);
  CHECK(SeenRect::from_corners(30, 20, -10, 45) == wanted);
  CHECK(wanted.width() == 40);
  CHECK(wanted.height() == 25);
  CHECK(wanted.area() == 1000);
  CHECK(wanted.centre() == Point<SeenSpace>{10, 32.5});
}

TEST_CASE("corners may coincide: a hairline has no area, yet is there") {
  auto const line = SeenRect::from_corners(5, 1, 5, 9);
  CHECK(line.area() == 0);
  CHECK(intersection(line, SeenRect{0, 0, 10, 10}) == line);
}

TEST_CASE("rectangles move and grow") {
  SeenRect const r{0, 0, 10, 20};
  CHECK(r.moved(3, -4) == SeenRect{3, -4, 13, 16});
  CHECK(r.grown(2) == SeenRect{-2, -2, 12, 22});
  CHECK(r.grown(-2) == SeenRect{2, 2, 8, 18});
  CHECK(r.grown(-5) == SeenRect{5, 5, 5, 15});
  CHECK(r.grown(-7) == SeenRect{5, 7, 5, 13});  // an edge never passes its opposite
  CHECK(r.grown(-100) == SeenRect{5, 10, 5, 10});
}

TEST_CASE("inside means edges included, and slack is allowed each way") {
  SeenRect const outer{0, 0, 100, 200};
  CHECK(outer.contains(outer));
  CHECK(outer.contains(SeenRect{10, 10, 20, 20}));
  for (SeenRect const& over : {SeenRect{-1, 0, 100, 200}, SeenRect{0, -1, 100, 200}, SeenRect{0, 0, 101, 200}, SeenRect{0, 0, 100, 201}}) {
    CHECK_FALSE(outer.contains(over));
    CHECK_FALSE(outer.contains(over, 0.99));
    CHECK(outer.contains(over, 1));
  }
}

TEST_CASE("intersections: overlapping, touching, apart") {
  SeenRect const a{0, 0, 10, 10};
  CHECK(intersection(a, SeenRect{5, 6, 20, 30}) == SeenRect{5, 6, 10, 10});
  CHECK(intersection(a, SeenRect{10, 0, 20, 10}) == SeenRect{10, 0, 10, 10});
  CHECK_FALSE(intersection(a, SeenRect{10.1, 0, 20, 10}));
  CHECK_FALSE(intersection(a, SeenRect{0, -20, 10, -0.1}));
}

TEST_CASE("the union is around both, and nothing adds nothing") {
  SeenRect const a{0, 0, 1, 1}, b{5, -3, 6, 0};
  CHECK(united(a, b) == SeenRect{0, -3, 6, 1});
  std::optional<SeenRect> const none;
  CHECK(united(none, std::optional(a)) == a);
  CHECK(united(std::optional(a), none) == a);
  CHECK(united(std::optional(a), std::optional(b)) == united(a, b));
  CHECK_FALSE(united(none, none));
}

TEST_CASE("what is shared lies in both, and both lie in the union") {
  double const x = GENERATE(take(20, random(-50.0, 50.0)));
  double const y = GENERATE(take(10, random(-50.0, 50.0)));
  SeenRect const a{-30, -20, 30, 20}, b = SeenRect::from_corners(x, y, x + 25, y - 35);
  CHECK(united(a, b).contains(a));
  CHECK(united(a, b).contains(b));
  CHECK(intersection(a, b) == intersection(b, a));
  if (auto const shared = intersection(a, b)) {
    CHECK(a.contains(*shared));
    CHECK(b.contains(*shared));
  } else {
    CHECK((b.x0 > a.x1 || b.x1 < a.x0 || b.y0 > a.y1 || b.y1 < a.y0));
  }
}

TEST_CASE("a rectangle with an edge that is no number is reported") {
  double const bad =
      GENERATE(std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity());
  CHECK(SeenRect{0, 0, 1, 1}.finite());
  for (SeenRect const& box : {SeenRect{bad, 0, 1, 1}, SeenRect{0, bad, 1, 1}, SeenRect{0, 0, bad, 1}, SeenRect{0, 0, 1, bad}})
    CHECK_FALSE(box.finite());
}
