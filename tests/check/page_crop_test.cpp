// page.crop: DESIGN section 6; that the crop box clips: ISO 32000-1, 14.11.2.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.crop notes marks that the crop box hides") {
  View v;
  CHECK(v.silent("page.crop"));
  v.marks.hidden_by_crop = true;
  auto const f = v.finding("page.crop");
  CHECK(f.level == Level::note);
  CHECK(f.where == Rect<SeenSpace>{0, 0, 612, 1224});
  v.with_marks = false;
  CHECK(v.silent("page.crop"));
}

TEST_CASE("page.crop leaves marks that are partly seen to ink.cut") {
  View v;
  v.marks.cut = {{{-20, 10, 30, 40}, 20, false}};
  CHECK(v.silent("page.crop"));
}
