// ink.margin: the quarter inch (18 pt) all round is common practice, no published source; the tolerance of 0.01 pt is our own (DESIGN
// section 6). Live area of the narrow sheet: 18,18 to 594,1206.
#include "check/view.h"

using namespace layright;
using namespace layright::test;
using Scale = PlacementOptions::Scale;

TEST_CASE("ink.margin at the limit on every side") {
  struct Row {
    double x0, y0, x1, y1;
    bool fires;
  };
  auto const row = GENERATE(values<Row>({{18, 18, 594, 1206, false},
                                         {17.991, 18, 594, 1206, false},
                                         {17.98, 18, 500, 1206, true},
                                         {18, 17.991, 594, 1206, false},
                                         {18, 17.98, 594, 1100, true},
                                         {18, 18, 594.009, 1206, false},
                                         {28, 18, 594.02, 1206, true},
                                         {18, 18, 594, 1206.009, false},
                                         {18, 28, 594, 1206.02, true},
                                         {200, 200, 300, 300, false}}));
  CAPTURE(row.x0, row.y0, row.x1, row.y1);
  View v;
  v.ink(row.x0, row.y0, row.x1, row.y1).placed();
  CHECK(v.silent("ink.margin") == !row.fires);
  if (row.fires) CHECK(v.finding("ink.margin").level == Level::fix);
}

TEST_CASE("ink.margin tells side and amount, and that lay fixes it") {
  View v;
  auto const f = v.ink(7.2, 100, 400, 1215).placed().finding("ink.margin");
  CHECK(f.level == Level::fix);
  CHECK_THAT(f.message, Contains("0.15 in at the left") && Contains("0.125 in at the top") && Contains("0.25 in must stay free") &&
                            Contains("`lay` moves it inside") && !Contains("right") && !Contains("bottom"));
  CHECK(f.where == v.marks.ink);
  CHECK(number(f.measured, "left_pt") == Approx(7.2));
  CHECK(number(f.measured, "top_pt") == 9);
  CHECK(number(f.wanted, "left_pt") == 18);
  CHECK_THAT(View().ink(17.98, 100, 400, 1000).placed().finding("ink.margin").message, Contains("0.02 pt at the left"));
}

TEST_CASE("ink.margin is held where the asked scale forbids the fix") {
  View v;
  v.ink(10, 100, 602, 1000);  // 592 wide, 576 free
  auto held = v.placed().finding("ink.margin");
  CHECK(held.level == Level::hold);
  CHECK_THAT(held.message, Contains("`lay` cannot fix it as asked: ink.size says why"));
  v.placement.reset();  // how it reads is not known: the size decides all the same
  CHECK(v.finding("ink.margin").level == Level::hold);
  v.target.placement.scale = GENERATE(Scale::fit, Scale::shrink);
  auto const fixed = v.placed().finding("ink.margin");
  CHECK(fixed.level == Level::fix);
  CHECK_THAT(fixed.message, Contains("scales it to 97.3%"));  // 576 / 592
  v.target.placement = {};
  v.target.placement.allow_outside = true;
  CHECK(v.placed().finding("ink.margin").level == Level::note);
}

TEST_CASE("ink.margin by page: what lies in the margin cannot be moved") {
  View v;
  v.target.placement.by = PlaceBy::page;
  auto const f = v.ink(10, 100, 300, 300).placed().finding("ink.margin");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("ink.size says why"));
}

TEST_CASE("ink.margin only looks at pages of the sheet's size") {
  View v;
  CHECK(v.sized(612, 792).ink(0, 0, 612, 792).placed().silent("ink.margin"));
  CHECK(v.sized(612.5, 1224).ink(19, 18, 594.5, 1206).placed().finding("ink.margin").level == Level::fix);
  CHECK(View().silent("ink.margin"));  // a blank page has no ink
  v.with_marks = false;
  CHECK(v.silent("ink.margin"));
}

TEST_CASE("ink.margin on a page that lies the other way goes by the turned live area") {
  View v;
  v.sized(1224, 612);
  v.target.sheet.margins = {Length::points(10), Length::points(20), Length::points(30), Length::points(40)};
  // Turned a quarter counterclockwise, the page's left is the sheet's bottom, its bottom the sheet's right, its right the sheet's top and
  // its top the sheet's left: 20, 30, 40, 10.
  CHECK(v.ink(20, 30, 1184, 602).placed().silent("ink.margin"));
  CHECK_FALSE(v.ink(19, 30, 1184, 602).placed().silent("ink.margin"));
  CHECK_FALSE(v.ink(20, 29, 1184, 602).placed().silent("ink.margin"));
  CHECK_FALSE(v.ink(20, 30, 1185, 602).placed().silent("ink.margin"));
  CHECK_FALSE(v.ink(20, 30, 1184, 603).placed().silent("ink.margin"));
  v.target.placement.turn = Turn::three_quarters;  // the other way round: 40, 10, 20, 30
  CHECK(v.ink(40, 10, 1204, 582).placed().silent("ink.margin"));
  CHECK_FALSE(v.ink(39, 10, 1204, 582).placed().silent("ink.margin"));
}

TEST_CASE("ink.margin: where somebody reverses later, left and right margins are the file's, mirrored") {
  View v;
  v.target.sheet.margins = {Length::points(10), Length::points(18), Length::points(60), Length::points(18)};
  CHECK(v.ink(10, 18, 552, 1206).placed().silent("ink.margin"));
  v.target.reverse_at = GENERATE(ReverseAt::printer, ReverseAt::rip);
  auto const f = v.placed().finding("ink.margin");
  CHECK_THAT(f.message, Contains("at the left") && !Contains("at the right"));
  CHECK(number(f.wanted, "left_pt") == 60);
  CHECK(v.ink(60, 18, 602, 1206).placed().silent("ink.margin"));
}
