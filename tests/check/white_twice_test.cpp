// white.twice: the plate in the file and the driver's own white (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.twice holds where the driver lays white as well") {
  PlatedPage page(kBlock);
  CHECK(page.reported("white.twice").empty());
  page.target.white.on = true;
  auto const reported = page.reported("white.twice");
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].level == Level::hold);
  page.target.plate.from = PlateFrom::off;
  CHECK(page.reported("white.twice").empty());
}
