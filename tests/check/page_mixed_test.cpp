// page.mixed: pages of one file differ in size (DESIGN section 6).
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.mixed fires on two sizes, not on none or one") {
  OpenFile file(one_page_pdf("[0 0 612 792]", ""));
  CHECK(file.silent("page.mixed"));
  file.sizes = {{612, 792}};
  CHECK(file.silent("page.mixed"));
  file.sizes = {{612, 792}, {612, 1224}};
  auto const f = file.finding("page.mixed");
  CHECK(f.level == Level::note);
  CHECK_THAT(f.message, Contains("8.5 x 11 in and 8.5 x 17 in"));
  CHECK(number(f.measured, "sizes_count") == 2);
}
