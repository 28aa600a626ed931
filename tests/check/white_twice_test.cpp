// white.twice: the plate in the file and the driver's own white (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.twice holds where the driver lays white as well") {
  PlatedPage page(kBlock);
  CHECK(page.told("white.twice").empty());
  page.target.white.on = true;
  auto const told = page.told("white.twice");
  REQUIRE(told.size() == 1);
  CHECK(told[0].level == Level::hold);
  page.target.plate.from = PlateFrom::off;
  CHECK(page.told("white.twice").empty());
}
