// white.thin: ink too fine to get white from the plate that is made (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.thin tells ink that is too fine to get white, and where") {
  std::string const line = kBlock + "0.8 w 100 400 m 300 400 l S";
  PlatedPage const bare(line, kBarePlate);
  auto const told = bare.told("white.thin");
  REQUIRE(told.size() == 1);
  REQUIRE(told[0].where);
  CHECK(told[0].where->y0 > 390);
  CHECK(told[0].where->y1 < 410);
  CHECK(PlatedPage(line).told("white.thin").empty());  // it keeps a core
}
