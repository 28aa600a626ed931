// ink.edge: where the trial sheet stayed blank. 612 x 1224 pt; by hand.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

namespace {
View tried(char const* measured) {
  View v;
  v.target.press.trial = parse_trial(measured, "2026-03-01").value();
  return v;
}
}  // namespace

TEST_CASE("ink in a strip that the press does not print is held", "[ink.edge]") {
  auto const f = tried("left=20pt,top=30pt").ink(18, 18, 594, 1206).placed().finding("ink.edge");
  CHECK(f.level == Level::hold);  // as wide as the live area: lay could not move it anywhere else
  CHECK_THAT(f.message, Contains("left 0.028 in") && Contains("top 0.167 in") && !Contains("right"));
  CHECK(number(f.measured, "left_pt") == Approx(18));
  CHECK(number(f.wanted, "left_pt") == Approx(20));
}

TEST_CASE("ink that just does not reach it is not", "[ink.edge]") {
  CHECK(tried("left=20pt").ink(20, 18, 594, 1206).placed().silent("ink.edge"));
  CHECK_FALSE(tried("left=20pt").ink(19.9, 18, 594, 1206).placed().silent("ink.edge"));
  CHECK(tried("left=18pt").ink(18, 18, 594, 1206).placed().silent("ink.edge"));
  CHECK(View().ink(0, 0, 612, 1224).placed().silent("ink.edge"));  // nobody tried the press
}

TEST_CASE("what lay moves away from there is to be laid", "[ink.edge]") {
  auto const f = tried("left=20pt").ink(10, 100, 300, 200).placed().finding("ink.edge");
  CHECK(f.level == Level::fix);
  CHECK_THAT(f.message, Contains("moves it away"));
}

TEST_CASE("of a page of another size the placement decides", "[ink.edge]") {
  auto v = tried("left=20pt").sized(2000, 2000);
  CHECK(v.ink(0, 0, 500, 500).placed().silent("ink.edge"));
  v.target.placement.at = Anchor::left;
  CHECK(v.placed().finding("ink.edge").level == Level::hold);
}

TEST_CASE("where the printer reverses, left is that of the printed sheet", "[ink.edge]") {
  auto v = tried("left=20pt").ink(100, 100, 594, 200).placed();
  CHECK(v.silent("ink.edge"));
  v.target.reverse_at = ReverseAt::printer;
  CHECK_THAT(v.placed().finding("ink.edge").message, Contains("left 0.028 in"));
}
