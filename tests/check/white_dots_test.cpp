// white.dots: art that loses much of its white (our own limit).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("the plate's area is that of the ink less the pull-in") {
  PlatedPage const page(kBlock);
  double const side = 200 - 2 * 0.5;
  CHECK(page.plate->notes.ink_pt2 == Approx(200.0 * 200).epsilon(0.002));
  CHECK(page.plate->notes.white_pt2 == Approx(side * side).epsilon(0.002));
  CHECK(page.reported("white.thin").empty());
  CHECK(page.reported("white.rim").empty());
  CHECK(page.reported("white.dots").empty());
}

TEST_CASE("white.dots tells art that loses much of its white") {
  std::string dots = "0.1 0.1 0.6 rg ";
  for (int x = 0; x < 40; ++x)
    for (int y = 0; y < 40; ++y) dots += std::to_string(100 + 4 * x) + " " + std::to_string(100 + 4 * y) + " 2 2 re f ";
  CHECK(PlatedPage(dots).reported("white.dots").size() == 1);
  CHECK(PlatedPage(kBlock).reported("white.dots").empty());
}
