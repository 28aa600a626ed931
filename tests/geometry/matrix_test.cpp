#include "geometry/matrix.h"

#include <catch2/catch.hpp>
#include <limits>

#include "geometry/space.h"

using namespace layright;
using Catch::Matchers::WithinAbs;

namespace {
using Seen = SeenSpace;
using Square = Matrix<Seen, Seen>;
constexpr double kMatrixNoise = 1e-9;

void check_same(Square const& a, Square const& b) {
  CHECK_THAT(a.a, WithinAbs(b.a, kMatrixNoise));
  CHECK_THAT(a.b, WithinAbs(b.b, kMatrixNoise));
  CHECK_THAT(a.c, WithinAbs(b.c, kMatrixNoise));
  CHECK_THAT(a.d, WithinAbs(b.d, kMatrixNoise));
  CHECK_THAT(a.e, WithinAbs(b.e, kMatrixNoise));
  CHECK_THAT(a.f, WithinAbs(b.f, kMatrixNoise));
}

template <class A, class B>
concept Chains = requires(A a, B b) {
  then(a, b);
};
}  // namespace

TEST_CASE("maps chain only where their spaces meet") {
  STATIC_REQUIRE(Chains<Matrix<PageSpace, SeenSpace>, Matrix<SeenSpace, SheetSpace>>);
  STATIC_REQUIRE_FALSE(Chains<Matrix<SeenSpace, SheetSpace>, Matrix<PageSpace, SeenSpace>>);
}

// By hand from ISO 32000-1, 8.3.3: x' = a x + c y + e, y' = b x + d y + f.
TEST_CASE("a map's six numbers are PDF's") {
  Square const m{2, 3, 5, 7, 11, 13};
  CHECK(m.apply(Point<Seen>{1, 0}) == Point<Seen>{13, 16});
  CHECK(m.apply(Point<Seen>{0, 1}) == Point<Seen>{16, 20});
  CHECK(m.determinant() == -1);
  CHECK(m.mirrors());
}

TEST_CASE("turns are counterclockwise and exact") {
  CHECK(rotation<Seen>(Turn::quarter).apply(Point<Seen>{1, 0}) == Point<Seen>{0, 1});
  CHECK(rotation<Seen>(Turn::half).apply(Point<Seen>{1, 0}) == Point<Seen>{-1, 0});
  CHECK(rotation<Seen>(Turn::three_quarters).apply(Point<Seen>{1, 0}) == Point<Seen>{0, -1});
  CHECK(rotation<Seen>(Turn::none) == Square{});
}

TEST_CASE("four quarter turns are none") {
  auto const quarter = rotation<Seen>(Turn::quarter);
  CHECK(then(then(then(quarter, quarter), quarter), quarter) == Square{});
  CHECK(then(quarter, quarter) == rotation<Seen>(Turn::half));
  CHECK(then(then(quarter, quarter), quarter) == rotation<Seen>(Turn::three_quarters));
}

TEST_CASE("a turn and its inverse are none") {
  auto const turn = GENERATE(Turn::none, Turn::quarter, Turn::half, Turn::three_quarters);
  CHECK(then(rotation<Seen>(turn), rotation<Seen>(inverse(turn))) == Square{});
}

TEST_CASE("two reversals are none, one mirrors") {
  auto const once = reversal<Seen>();
  CHECK(once.mirrors());
  CHECK(once.apply(Point<Seen>{3, 4}) == Point<Seen>{-3, 4});
  CHECK(then(once, once) == Square{});
  auto const turn = GENERATE(Turn::none, Turn::quarter, Turn::half, Turn::three_quarters);
  CHECK(then(once, rotation<Seen>(turn)).mirrors());
}

TEST_CASE("the first map acts first") {
  auto const moved_then_doubled = then(translation<Seen>(1, 2), scaling<Seen>(2));
  CHECK(moved_then_doubled.apply(Point<Seen>{0, 0}) == Point<Seen>{2, 4});
  auto const doubled_then_moved = then(scaling<Seen>(2), translation<Seen>(1, 2));
  CHECK(doubled_then_moved.apply(Point<Seen>{0, 0}) == Point<Seen>{1, 2});
}

TEST_CASE("a map and its inverse are none") {
  double const k = GENERATE(take(20, random(0.01, 50.0)));
  double const dx = GENERATE(take(5, random(-2000.0, 2000.0)));
  auto const turn = GENERATE(Turn::none, Turn::quarter, Turn::half, Turn::three_quarters);
  for (auto const& start : {Square{}, reversal<Seen>()}) {
    auto const m = then(then(then(start, rotation<Seen>(turn)), scaling<Seen>(k)), translation<Seen>(dx, -dx / 3));
    auto const back = m.inverted();
    REQUIRE(back);
    check_same(then(m, *back), Square{});
    check_same(then(*back, m), Square{});
  }
}

TEST_CASE("a flat map has no inverse") {
  CHECK_FALSE(scaling<Seen>(0).inverted());
  CHECK_FALSE(Square{1, 2, 2, 4, 0, 0}.inverted());
  CHECK_FALSE(scaling<Seen>(std::numeric_limits<double>::infinity()).inverted());
  CHECK_FALSE(scaling<Seen>(std::numeric_limits<double>::quiet_NaN()).inverted());
}

TEST_CASE("chaining keeps the order of brackets free") {
  double const k = GENERATE(take(20, random(-5.0, 5.0)));
  Square const a{1, k, 2, 3, 4, 5}, b{k, 1, 0, 2, -3, k}, c{0, 1, k, 1, 7, 8};
  check_same(then(then(a, b), c), then(a, then(b, c)));
}

TEST_CASE("a rectangle's image is the upright one around it") {
  Rect<Seen> const r{1, 2, 4, 8};
  CHECK(rotation<Seen>(Turn::quarter).apply(r) == Rect<Seen>{-8, 1, -2, 4});
  CHECK(reversal<Seen>().apply(r) == Rect<Seen>{-4, 2, -1, 8});
  CHECK(Square{1, 1, -1, 1, 0, 0}.apply(Rect<Seen>{0, 0, 1, 1}) == Rect<Seen>{-1, 0, 1, 2});  // an eighth of a turn, grown by root 2
}
