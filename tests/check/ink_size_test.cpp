// ink.size: the art against the live area at the asked scale (DESIGN section 6). Live area of the narrow sheet: 576 x 1188 pt.
#include "check/view.h"

using namespace layright;
using namespace layright::test;
using Scale = PlacementOptions::Scale;

namespace {

View view_of_size(double width, double height) {
  View v;
  v.sized(2000, 2000).ink(100, 100, 100 + width, 100 + height);
  return v;
}

}  // namespace

TEST_CASE("ink.size at the limit, upright or turned") {
  struct Row {
    double w, h;
    bool fires;
  };
  auto const row = GENERATE(values<Row>({{576, 1188, false},
                                         {1188, 576, false},
                                         {576.019, 1188, false},
                                         {576.03, 1188, true},
                                         {576, 1188.03, true},
                                         {1188.03, 576, true},
                                         {600, 600, true},
                                         {10, 10, false}}));
  CAPTURE(row.w, row.h);
  auto v = view_of_size(row.w, row.h);
  CHECK(v.placed().silent("ink.size") == !row.fires);
  v.placement.reset();
  CHECK(v.silent("ink.size") == !row.fires);
  if (row.fires) CHECK(v.finding("ink.size").level == Level::hold);
}

TEST_CASE("ink.size at a turn, a percentage, a width") {
  auto v = view_of_size(1188, 576);
  v.target.placement.turn = Turn::none;
  CHECK_THAT(v.placed().finding("ink.size").message, Contains("8.5 in too wide") && Contains("--turn auto"));
  v = view_of_size(300, 300);
  v.target.placement.scale = Scale::percent;
  v.target.placement.percent = 192;  // 576
  CHECK(v.placed().silent("ink.size"));
  v.target.placement.percent = 193;
  CHECK_THAT(v.placed().finding("ink.size").message, Contains("193%") && Contains("--scale 192%"));
  v.target.placement = {};
  v.target.placement.width = Length::inches(8);
  CHECK(v.placed().silent("ink.size"));
  v.target.placement.width = Length::inches(8.1);
  CHECK(v.placed().finding("ink.size").level == Level::hold);
}

TEST_CASE("ink.size: what fixes it, with figures") {
  auto v = view_of_size(600, 1300);
  auto const f = v.placed().finding("ink.size");
  CHECK(f.level == Level::hold);
  CHECK(f.where == v.marks.ink);
  CHECK(number(f.measured, "width_pt") == 600);
  CHECK(number(f.wanted, "height_pt") == 1188);
  CHECK(number(f.wanted, "largest_scale_pct") == Approx(118802.0 / 1300));
  v.target.placement.scale = GENERATE(Scale::fit, Scale::shrink);
  auto const fixed = v.placed().finding("ink.size");
  CHECK(fixed.level == Level::fix);
  CHECK_THAT(fixed.message, Contains("91.38%"));
  CHECK(view_of_size(500, 500).placed().silent("ink.size"));
  auto small = view_of_size(500, 500);
  small.target.placement.scale = Scale::fit;
  CHECK(small.placed().silent("ink.size"));  // enlarged, not too large
}

TEST_CASE("ink.size tells every refusal of the placement, also on a page of the sheet's size") {
  View v;
  v.ink(20, 20, 300, 300).target.placement.offset_x = Length::inches(3);
  CHECK(v.placed().silent("ink.margin"));
  CHECK_THAT(v.finding("ink.size").message, Contains("--offset"));
  v.target.placement = {};
  v.ink(0, 0, 612, 1224);
  CHECK(v.placed().finding("ink.size").level == Level::hold);
  v.target.placement.allow_outside = true;
  CHECK(v.placed().finding("ink.size").level == Level::note);
  CHECK(View().placed().silent("ink.size"));  // blank: ink.blank
}

TEST_CASE("ink.size: scales of a page that was laid before are told of its original") {
  View v;
  v.ink(100, 100, 500, 700);
  v.page.record.emplace().scale = 0.5;
  v.page.record->holds = true;
  v.target.placement.scale = PlacementOptions::Scale::shrink;
  Placement larger;
  larger.scale = 1.5;  // from what is seen now
  v.placement = larger;
  CHECK(v.silent("ink.size"));  // the configuration's scale is for art that was not laid yet
  v.target.placement.asked.size = true;
  v.ink(0, 60, 612, 1164);
  CHECK_THAT(v.finding("ink.size").message, Contains("75% of the original"));
}
