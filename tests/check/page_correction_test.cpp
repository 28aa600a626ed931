// page.correction: the correction itself is judged in tests/place/correction_test.cpp; here, when a page lacks it. The limit is page.size's
// half point (DESIGN section 6).
#include "check/view.h"
#include "place/correction.h"

using namespace layright;
using namespace layright::test;

namespace {

View corrected_press(char const* measured) {
  View v;
  v.target.press.correct = true;
  v.target.press.trial = parse_trial(measured, "2026-03-01").value();
  return v;
}

void laid(View& v, Matrix<SheetSpace, SheetSpace> const& correction) {
  v.page.record.emplace();
  v.page.record->holds = true;
  v.page.record->correction = correction;
}

}  // namespace

TEST_CASE("a page of the sheet's size that does not undo the press's shift is to be corrected", "[page.correction]") {
  auto const f = corrected_press("shift-x=2pt").finding("page.correction");
  CHECK(f.level == Level::fix);
  CHECK(number(f.measured, "off_pt") == Approx(2));
  CHECK_THAT(f.message, Contains("is not corrected") && Contains("0.028 in"));
}

TEST_CASE("the limit is half a point, at the corner that is farthest off", "[page.correction]") {
  CHECK(corrected_press("shift-x=0.49pt").silent("page.correction"));
  CHECK_FALSE(corrected_press("shift-x=0.51pt").silent("page.correction"));
  // Along, the page's corners lie 612 pt from its middle.
  CHECK(corrected_press("along=1.0008").silent("page.correction"));
  CHECK_FALSE(corrected_press("along=1.0009").silent("page.correction"));
}

TEST_CASE("a laid page that has the right correction is right; one that has another is not", "[page.correction]") {
  auto v = corrected_press("shift-x=2pt,along=1.01");
  laid(v, correction_of(v.target));
  CHECK(v.silent("page.correction"));
  v.target.press.trial->shift_x = Length::points(-2);
  CHECK_THAT(v.finding("page.correction").message, Contains("before the press was last tried"));
  v.target.press.correct = false;
  CHECK_THAT(v.finding("page.correction").message, Contains("asks for no correction"));
  v.page.record->holds = false;  // nobody knows what it has
  CHECK(v.silent("page.correction"));
}

TEST_CASE("pages that lay places anyway are left to it", "[page.correction]") {
  auto v = corrected_press("shift-x=2pt");
  CHECK(v.sized(612, 792).silent("page.correction"));
  CHECK(v.sized(1224, 612).silent("page.correction"));
}
