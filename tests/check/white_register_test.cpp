// white.register: room for register marks (our own).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.register holds art that leaves no room for register marks, where they are asked for") {
  PlateOptions const marked{.from = PlateFrom::all, .as = PlateAs::file, .register_marks = true}, plain{.from = PlateFrom::all, .as = PlateAs::file};
  std::string const full = "0.5 g 18 18 576 756 re f ";  // on the default page, all of a live area of its size
  CHECK(PlatedPage(kBlock, marked).reported("white.register").empty());
  PlatedPage page(full, marked);
  page.target.sheet.length = Length::inches(11);
  page.placement = place({page.marks.ink, page.page.seen_trim(), page.page.seen.rect()}, page.target.sheet, page.target.placement, false, false,
                         Unit::inch, page.target.limits.margin_tolerance);
  auto const reported = page.reported("white.register");
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].level == Level::hold);
  page.target.plate = plain;
  CHECK(page.reported("white.register").empty());
}
