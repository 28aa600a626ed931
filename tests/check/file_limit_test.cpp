// file.limit: 6 s a page and 512 MB by default (DESIGN section 6; our own).
#include "check/trouble.h"
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("file.limit: a page that ran out of time") {
  View v;
  v.page.number = 7;
  CHECK(v.silent("file.limit"));
  v.marks.whole = false;
  CHECK(v.silent("file.limit"));  // damaged, not late
  v.marks.out_of_time = true;
  auto const f = v.finding("file.limit");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("page 7") && Contains("6 s"));
  CHECK(number(f.wanted, "seconds_a_page") == 6);
}

TEST_CASE("file.limit: memory and size") {
  Limits limits;
  limits.memory_mb = 300;
  auto const memory = limit_finding(RanOut::memory, 0, limits);
  CHECK(memory.check == "file.limit");
  CHECK_THAT(memory.message, Contains("the file") && Contains("300 MB"));
  CHECK(number(memory.wanted, "memory_mb") == 300);
  CHECK_THAT(limit_finding(RanOut::size, 0, limits).message, Contains("larger"));
  CHECK(limit_finding(RanOut::size, 0, limits).level == Level::hold);
}
