// ink.blank: nothing leaves ink (DESIGN section 6).
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("ink.blank holds a page without ink, and no other") {
  View v;
  auto const f = v.finding("ink.blank");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("--pages"));
  CHECK(View().ink(100, 100, 100, 200).silent("ink.blank"));  // a hairline is ink
}

TEST_CASE("ink.blank says why: white art, or a crop box") {
  View v;
  v.marks.count = 3;
  CHECK_THAT(v.finding("ink.blank").message, Contains("--white prints"));
  v.target.press.prints_white = true;
  CHECK_THAT(v.finding("ink.blank").message, !Contains("--white"));
  v.marks.count = 0;
  v.marks.hidden_by_crop = true;
  CHECK_THAT(v.finding("ink.blank").message, Contains("crop box"));
}

TEST_CASE("ink.blank does not claim what was not read in time") {
  View v;
  v.marks.whole = false;
  v.marks.out_of_time = true;
  CHECK(v.silent("ink.blank"));
  v.with_marks = false;
  CHECK(v.silent("ink.blank"));
}

TEST_CASE("a page that was not wholly read is neither blank nor of a size") {
  View v;
  v.marks.whole = false;
  CHECK(v.silent("ink.blank"));
  v.ink(0, 0, 4000, 4000);
  CHECK(v.findings("ink.size").size() == 1);
  v.marks.ink_known = false;
  CHECK(v.silent("ink.size"));
}
