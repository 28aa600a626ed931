#include "geometry/turn.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace layright;

// Any multiple of 90 is legal, also negative or above 360 (ISO 32000-1, Table 30, Rotate); by hand modulo 360.
TEST_CASE("any multiple of 90 is one of four turns") {
  auto const [given, wanted] = GENERATE(table<long long, int>({{0, 0},
                                                               {90, 90},
                                                               {180, 180},
                                                               {270, 270},
                                                               {360, 0},
                                                               {450, 90},
                                                               {-90, 270},
                                                               {-180, 180},
                                                               {-270, 90},
                                                               {-360, 0},
                                                               {-450, 270},
                                                               {3600000090, 90},
                                                               {-3600000090, 270}}));
  auto const turn = turn_of(given);
  REQUIRE(turn);
  CHECK(degrees(*turn) == wanted);
}

TEST_CASE("what is no multiple of 90 is no turn") {
  long long const given =
      GENERATE(as<long long>{}, 1, 45, 89, 91, -1, -45, 359, std::numeric_limits<long long>::max(), std::numeric_limits<long long>::min());
  CHECK_FALSE(turn_of(given));
}

TEST_CASE("turns add, and a turn and its inverse are none") {
  int const a = GENERATE(0, 90, 180, 270), b = GENERATE(0, 90, 180, 270);
  CHECK(degrees(then(*turn_of(a), *turn_of(b))) == (a + b) % 360);
  CHECK(then(*turn_of(a), inverse(*turn_of(a))) == Turn::none);
  CHECK(swaps_sides(*turn_of(a)) == (a % 180 != 0));
}
