// ink.cut: more than 1 pt beyond the edge of what is seen; a flat ground and art in the bleed are notes (DESIGN section 6; bleed and trim:
// ISO 32000-1, 14.11.2).
#include "check/view.h"

using namespace layright;
using namespace layright::test;

namespace {

/// One mark that passes the right edge of the narrow sheet by so much.
View cut_right(double beyond, bool ground = false) {
  View v;
  v.marks.cut = {{{500, 100, 612 + beyond, 200}, beyond, ground}};
  return v;
}

}  // namespace

TEST_CASE("ink.cut at the limit") {
  CHECK(cut_right(0.5).silent("ink.cut"));
  CHECK(cut_right(1).silent("ink.cut"));
  auto const f = cut_right(1.01).finding("ink.cut");
  CHECK(f.level == Level::hold);
  CHECK(View().silent("ink.cut"));
  auto v = cut_right(3);
  v.target.limits.cut = Length::points(4);
  CHECK(v.silent("ink.cut"));
}

TEST_CASE("ink.cut tells how many, which side and how far") {
  auto v = cut_right(36);
  auto const one = v.finding("ink.cut");
  CHECK_THAT(one.message, Contains("1 mark") && Contains("0.5 in at the right"));
  CHECK(one.where == Rect<SeenSpace>{500, 100, 648, 200});
  CHECK(number(one.measured, "beyond_pt") == 36);
  CHECK(number(one.wanted, "beyond_pt") == 1);
  v.marks.cut.push_back({{-72, -9, 30, 1230}, 72, false});
  auto const two = v.finding("ink.cut");
  CHECK_THAT(two.message,
             Contains("2 marks") && Contains("1 in at the left") && Contains("0.125 in at the bottom") && Contains("0.083 in at the top"));
  CHECK(number(two.measured, "count") == 2);
  CHECK(two.where == Rect<SeenSpace>{-72, -9, 30, 1230});
  CHECK(two.places == std::vector{Rect<SeenSpace>{500, 100, 648, 200}});
}

TEST_CASE("ink.cut: a flat ground is a note") {
  CHECK(cut_right(40, true).finding("ink.cut").level == Level::note);
  CHECK(cut_right(1, true).silent("ink.cut"));
  auto v = cut_right(40, true);
  v.marks.cut.push_back({{-72, -9, 30, 100}, 72, false});
  auto const both = v.findings("ink.cut");
  REQUIRE(both.size() == 2);
  CHECK(both[0].level == Level::hold);
  CHECK(both[1].level == Level::note);
}

TEST_CASE("ink.cut: art that ends in the bleed is a note, art that passes it is held") {
  auto v = cut_right(9);
  v.page.boxes.media = {-20, -20, 632, 1244};
  v.page.boxes.bleed = {-9, -9, 621, 1233};  // the crop box is the trim
  CHECK(v.finding("ink.cut").level == Level::note);
  v.marks.cut[0].whole.x1 = 622;  // within a point of the bleed's edge
  CHECK(v.finding("ink.cut").level == Level::note);
  v.marks.cut[0].whole.x1 = 622.1;
  CHECK(v.finding("ink.cut").level == Level::hold);
  v.marks.cut[0].whole.x1 = 621;
  v.marks.cut[0].whole.y0 = -30;  // one side that passes the bleed is enough
  CHECK(v.finding("ink.cut").level == Level::hold);
  v.marks.cut[0].whole.y0 = 100;
  v.page.boxes.media = {0, 0, 612, 1224};  // a bleed box beyond the media box counts only as far as that
  CHECK(v.finding("ink.cut").level == Level::hold);
}

TEST_CASE("ink.cut: art that is cut where the page shows bleed beyond its trim is a note") {
  auto v = cut_right(30);
  v.page.has_trim = true;
  v.page.boxes.trim = {9, 9, 603, 1215};
  CHECK(v.finding("ink.cut").level == Level::note);
  v.page.boxes.trim = {9, 9, 611.5, 1215};  // half a point is no bleed
  CHECK(v.finding("ink.cut").level == Level::hold);
  v.page.boxes.trim = {9, 9, 603, 1215};
  v.page.has_trim = false;
  CHECK(v.finding("ink.cut").level == Level::hold);
}
