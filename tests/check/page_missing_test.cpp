// page.missing: a page number that does not exist is a finding (hold), not a usage error (DESIGN section 4).
#include "check/trouble.h"
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.missing tells the page and how many there are") {
  auto const f = missing_page_finding(5, 3);
  CHECK(f.check == "page.missing");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("no page 5") && Contains("3 pages") && Contains("--pages"));
  CHECK_THAT(missing_page_finding(2, 1).message, Contains("1 page;"));
  auto const* info = find_check("page.missing");
  REQUIRE(info);
  CHECK(info->page == nullptr);
  CHECK(info->file == nullptr);
}
