// white.thin: ink too fine to get white from the plate that is made (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.thin tells ink that is too fine to get white, and where") {
  std::string const line = kBlock + "0.8 w 100 400 m 300 400 l S";
  PlatedPage const bare(line, kBarePlate);
  auto const reported = bare.reported("white.thin");
  REQUIRE(reported.size() == 1);
  REQUIRE(reported[0].where);
  CHECK(reported[0].where->y0 > 390);
  CHECK(reported[0].where->y1 < 410);
  CHECK(PlatedPage(line).reported("white.thin").empty());  // it keeps a core
}
