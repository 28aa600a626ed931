// ink.guide: at most 3 pt wide, within 9 pt of the live area's or the page's edge, all other ink inside (DESIGN section 6; the limits are
// our own).
#include "check/view.h"

using namespace layright;
using namespace layright::test;

namespace {

View frame(Rect<SeenSpace> middle, double stroke = 1, std::optional<Rect<SeenSpace>> other = Rect<SeenSpace>{100, 100, 200, 200}) {
  View v;
  v.ink(middle.x0, middle.y0, middle.x1, middle.y1);
  v.marks.frames = {{middle, stroke, other}};
  return v;
}
Rect<SeenSpace> const kLive{18, 18, 594, 1206}, kPage{0, 0, 612, 1224};

}  // namespace

TEST_CASE("ink.guide: on the live area's edge, or near it, or near the page's") {
  CHECK(frame(kLive).finding("ink.guide").level == Level::hold);
  CHECK_FALSE(frame(kLive.grown(-9)).silent("ink.guide"));
  CHECK(frame(kLive.grown(-9.1)).silent("ink.guide"));
  CHECK_FALSE(frame(kLive.grown(9)).silent("ink.guide"));  // also 9 from the page
  CHECK_FALSE(frame(kPage).silent("ink.guide"));
  CHECK_FALSE(frame(kPage.grown(-8)).silent("ink.guide"));
  CHECK_FALSE(frame(kPage.grown(9)).silent("ink.guide"));
  CHECK(frame(kPage.grown(9.1)).silent("ink.guide"));
  // Three sides near and one far are no guide; near the page on one side and near the live area on the others neither is.
  CHECK(frame({18, 18, 594, 1196.9}).silent("ink.guide"));
  CHECK(frame({0, 18, 594, 1206}).silent("ink.guide"));
  CHECK_FALSE(frame({9, 18, 594, 1206}).silent("ink.guide"));
}

TEST_CASE("ink.guide: how wide, and what lies inside") {
  CHECK_FALSE(frame(kLive, 3).silent("ink.guide"));
  CHECK(frame(kLive, 3.1).silent("ink.guide"));
  CHECK_THAT(frame(kLive, 0).finding("ink.guide").message, Contains("hairline"));
  CHECK_FALSE(frame(kLive, 1, kLive).silent("ink.guide"));
  CHECK(frame(kLive, 1, Rect<SeenSpace>{10, 100, 200, 200}).silent("ink.guide"));
  CHECK_FALSE(frame(kLive, 1, std::nullopt).silent("ink.guide"));
  CHECK(View().ink(18, 18, 594, 1206).silent("ink.guide"));
}

TEST_CASE("ink.guide tells where and how far") {
  auto const f = frame(kLive.grown(-2), 1.5).finding("ink.guide");
  CHECK_THAT(f.message, Contains("0.021 in wide") && Contains("live area") && Contains("--accept ink.guide"));
  CHECK(number(f.measured, "stroke_pt") == 1.5);
  CHECK(number(f.measured, "off_edge_pt") == Approx(2));
  CHECK(number(f.wanted, "off_edge_pt") == 9);
  CHECK(f.where == kLive.grown(-2).grown(0.75));
}

TEST_CASE("ink.guide on pages of other sizes") {
  auto v = frame({18, 18, 594, 774});
  v.sized(612, 792);
  CHECK_THAT(v.finding("ink.guide").message, Contains("the page less the margin"));
  // A frame of the live area's size in the middle of a larger page comes to lie on the live area's edge.
  auto big = frame(Rect<SeenSpace>{112, 112, 688, 1300}, 1, Rect<SeenSpace>{200, 200, 300, 300});
  big.sized(800, 1412);
  CHECK_FALSE(big.placed().silent("ink.guide"));
  big.target.placement.scale = PlacementOptions::Scale::percent;
  big.target.placement.percent = 50;  // made smaller it is a border like any other
  CHECK(big.placed().silent("ink.guide"));
  CHECK(frame({100, 100, 400, 400}).sized(612, 792).placed().silent("ink.guide"));
}

TEST_CASE("ink.guide on a sheet that lies the other way") {
  auto v = frame({18, 18, 1206, 594});
  CHECK_FALSE(v.sized(1224, 612).silent("ink.guide"));
}
