#include "job/gang_layout.h"

#include <catch2/catch.hpp>

#include "place/correction.h"

namespace layright {
namespace {

/// A page of `width` x `height` points of ink that begins at (10, 20), laid alone as `lay` does it.
WantedPage wanted(Target const& target, double width, double height, int count, PieceTurns turns = PieceTurns::quarter) {
  Rect<SeenSpace> const ink{10, 20, 10 + width, 20 + height};
  auto const placed = place_for(target, {}, {ink, ink, {0, 0, 1000, 1000}}, true, Unit::inch);
  WantedPage page;
  page.path = "crest.pdf";
  page.sha256 = std::string(64, 'a');
  page.placement = std::get<Placement>(placed);
  page.count = count;
  page.label = "1";
  page.turns = turns;
  return page;
}

bool near(Rect<SheetSpace> const& a, Rect<SheetSpace> const& b) { return a.contains(b, 1e-6) && b.contains(a, 1e-6); }

TEST_CASE("each copy's matrix brings its ink into its box, whatever the press does") {
  Target target;
  target.reading = WantedReading::wrong;
  bool const later = GENERATE(false, true), corrected = GENERATE(false, true);
  target.reverse_at = later ? ReverseAt::rip : ReverseAt::file;
  if (corrected) {
    target.press.correct = true;
    target.press.trial.emplace();
    target.press.trial->shift_x = Length::points(3);
    target.press.trial->stretch_along = 1.004;
  }
  auto const page = wanted(target, 200, 120, 13);
  auto const plan = plan_gang({page}, target, {}, Unit::inch);
  REQUIRE(plan);
  CHECK(plan->report.copies.size() == 13);
  CHECK(plan->report.alone == 13);
  auto const correction = correction_of(target);
  for (auto const& copy : plan->report.copies) CHECK(near(copy.matrix.apply(Rect<SeenSpace>{10, 20, 210, 140}), copy.cut_box));
  for (auto const& sheet : plan->sheets) {
    CHECK(sheet.sheet.pieces.size() == sheet.cut_boxes.size());
    CHECK_FALSE(sheet.sheet.marks.empty());
    for (auto const& mark : sheet.sheet.marks) {
      auto const where = correction.apply(mark.extents());
      CHECK(plan->live.contains(where, 1e-6));
      for (auto const& box : sheet.cut_boxes) CHECK_FALSE(intersection(box, where));
    }
    for (std::size_t i = 0; i < sheet.cut_boxes.size(); ++i) {
      auto const m = then(sheet.sheet.pieces[i].movement, correction);
      CHECK(near(m.apply(*page.placement.ink), sheet.cut_boxes[i]));
    }
    REQUIRE(sheet.sheet.record.source_ink);
    CHECK(plan->live.contains(sheet.sheet.record.placement.apply(*sheet.sheet.record.source_ink), 1e-6));
  }
}

TEST_CASE("without a gap there is no room for marks, and labels that are left out are counted") {
  Target const target;
  GangOptions options;
  options.gap = Length();
  auto const plan = plan_gang({wanted(target, 100, 100, 4)}, target, options, Unit::inch);
  REQUIRE(plan);
  CHECK(plan->sheets.at(0).sheet.marks.empty());
  CHECK(plan->report.labels_left_out == 4);
  options.gap = Length::inches(0.25);
  options.marks = options.labels = false;
  CHECK(plan_gang({wanted(target, 100, 100, 4)}, target, options, Unit::inch)->sheets.at(0).sheet.marks.empty());
}

TEST_CASE("straight cuts are told in the order in which they are made") {
  Target const target;  // live area 576 x 1188
  auto const plan = plan_gang({wanted(target, 279, 585, 4, PieceTurns::none)}, target, {}, Unit::inch);
  REQUIRE(plan);
  REQUIRE(plan->report.sheets == 1);
  REQUIRE(plan->report.cuts.size() == 3);  // worked out by hand: once through the middle, then each half
  CHECK(plan->report.cuts[0].across);
  CHECK(plan->report.cuts[0].at == Approx(18 + 585 + 9));
  CHECK(plan->report.cuts[0].to - plan->report.cuts[0].from == Approx(576));
  CHECK_FALSE(plan->report.cuts[1].across);
  CHECK(plan->report.cuts[1].at == Approx(18 + 279 + 9));
}

TEST_CASE("more pieces than can be meant are refused") {
  Target const target;
  auto const plan = plan_gang({wanted(target, 10, 10, 9000), wanted(target, 10, 10, 9000)}, target, {}, Unit::inch);
  REQUIRE_FALSE(plan);
  CHECK(plan.error().kind == ErrorKind::usage);
}

}  // namespace
}  // namespace layright
