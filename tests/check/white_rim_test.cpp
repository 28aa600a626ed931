// white.rim: white near bare ground (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.rim tells cores that lie near the edge") {
  CHECK(PlatedPage(kBlock + "0.4 w 100 400 m 300 400 l S").reported("white.rim").size() == 1);
  CHECK(PlatedPage(kBlock + "3 w 100 400 m 300 400 l S").reported("white.rim").empty());
}
