// What the press does is undone exactly: the page that is written, reversed by whoever reverses later, then stretched about the middle
// and shifted as the trial sheet showed, prints where the placement alone wanted it. The model of the press is written out here from the
// words of sheet/trial.h, point by point.
#include "place/correction.h"

#include <catch2/catch.hpp>
#include <random>

using namespace layright;

namespace {

struct CorrectedJob {
  Target target;
  PlaceSubject subject;
  bool reverse = false;
};

CorrectedJob random_corrected_job(unsigned seed) {
  std::mt19937 dice(seed);
  auto const real = [&](double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(dice); };
  auto const coin = [&] { return std::uniform_int_distribution<int>(0, 1)(dice) == 1; };
  auto const one_of = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(dice); };
  CorrectedJob job;
  Target& t = job.target;
  if (coin()) t.sheet.width = Length::inches(12.5), t.sheet.length = Length::inches(19);
  if (coin()) t.sheet.feed = Feed::long_edge;
  if (coin()) t.sheet.margins = {Length::points(real(0, 40)), Length::points(real(0, 40)), Length::points(real(0, 40)), Length::points(real(0, 40))};
  t.reverse_at = static_cast<ReverseAt>(one_of(3));
  t.placement.scale = static_cast<PlacementOptions::Scale>(one_of(3));
  t.placement.by = static_cast<PlaceBy>(one_of(3));
  t.placement.at = static_cast<Anchor>(one_of(9));
  if (coin()) t.placement.turn = static_cast<Turn>(90 * one_of(4));
  t.press.correct = true;
  Trial& trial = t.press.trial.emplace();
  if (coin()) trial.shift_x = Length::points(real(-30, 30)), trial.shift_y = Length::points(real(-30, 30));
  if (coin()) trial.stretch_along = real(0.97, 1.03);
  if (coin()) trial.stretch_across = real(0.97, 1.03);
  job.subject.page = {0, 0, real(100, 900), real(100, 1200)};
  job.subject.trim = job.subject.page;
  job.subject.ink = Rect<SeenSpace>::from_corners(real(0, job.subject.page.x1), real(0, job.subject.page.y1), real(0, job.subject.page.x1),
                                                  real(0, job.subject.page.y1));
  job.reverse = coin();
  return job;
}

/// What comes out of the press for a point of the file's page.
Point<SheetSpace> printed(Target const& t, Point<SheetSpace> p) {
  Trial const& trial = *t.press.trial;
  double const width = t.sheet.page().width(), height = t.sheet.page().height();
  if (t.reverse_at != ReverseAt::file) p.x = width - p.x;
  p.x = width / 2 + (p.x - width / 2) * trial.stretch_across.value_or(1) + trial.shift_x.value_or(Length()).in_points();
  p.y = height / 2 + (p.y - height / 2) * trial.stretch_along.value_or(1) + trial.shift_y.value_or(Length()).in_points();
  return p;
}

/// The same from a press that does neither.
Point<SheetSpace> printed_true(Target const& t, Point<SheetSpace> p) {
  if (t.reverse_at != ReverseAt::file) p.x = t.sheet.page().width() - p.x;
  return p;
}

Rect<SheetSpace> printed(Target const& t, Rect<SheetSpace> const& r) {
  auto const p = printed(t, Point<SheetSpace>{r.x0, r.y0}), q = printed(t, Point<SheetSpace>{r.x1, r.y1});
  return Rect<SheetSpace>::from_corners(p.x, p.y, q.x, q.y);
}

int const kCorrectedJobs = 4000;

}  // namespace

TEST_CASE("the corrected page prints where the placement alone wanted it, with its ink in the live area of the printed sheet") {
  int placed = 0, reached = 0;
  for (int seed = 0; seed < kCorrectedJobs; ++seed) {
    CAPTURE(seed);
    CorrectedJob const job = random_corrected_job(static_cast<unsigned>(seed));
    Target const& t = job.target;
    auto const result = place_for(t, t.placement, job.subject, job.reverse, Unit::inch);
    auto const* corrected = std::get_if<Placement>(&result);
    if (!corrected) continue;
    ++placed;
    // No ink is lost: it lies on the page of the file, and prints in the live area.
    REQUIRE(t.sheet.page().contains(*corrected->ink, 0.011));
    REQUIRE(t.sheet.live_area().contains(printed(t, *corrected->ink), 0.011));
    REQUIRE(live_area_of_file(t).contains(*corrected->ink, 0.011));
    REQUIRE(corrected->reversed == job.reverse);
    auto const alone_result = place(job.subject, t.sheet, t.placement, job.reverse, t.reverse_at != ReverseAt::file, Unit::inch);
    auto const* alone = std::get_if<Placement>(&alone_result);
    REQUIRE(alone);
    // Where the press prints some of the live area only from beyond the page's edge, that strip counts as margin.
    if (!t.sheet.page().contains(correction_of(t).apply(live_area_of_file(t.sheet, reverses_later(t))), 1e-9)) {
      ++reached;
      continue;
    }
    REQUIRE(corrected->scale == alone->scale);
    REQUIRE(corrected->turn == alone->turn);
    for (auto const& corner : {Point<SeenSpace>{0, 0}, Point<SeenSpace>{100, 0}, Point<SeenSpace>{13, 77}}) {
      auto const got = printed(t, corrected->matrix.apply(corner)), wanted = printed_true(t, alone->matrix.apply(corner));
      REQUIRE_THAT(got.x, Catch::WithinAbs(wanted.x, 1e-5));
      REQUIRE_THAT(got.y, Catch::WithinAbs(wanted.y, 1e-5));
    }
  }
  CHECK(placed > kCorrectedJobs / 4);
  CHECK(placed - reached > kCorrectedJobs / 5);
  CHECK(reached > 10);
}

TEST_CASE("a press that shall not be corrected, was not tried, or prints in place changes nothing") {
  CorrectedJob job = random_corrected_job(1);
  Trial const tried = parse_trial("shift-x=3pt,along=1.01", "2026-03-01").value();
  auto const row = GENERATE(0, 1, 2);
  job.target.press.correct = row != 0;
  if (row == 0) job.target.press.trial = tried;
  if (row == 1) job.target.press.trial.reset();
  if (row == 2) job.target.press.trial = parse_trial("reads=right,shift-x=0mm,along=1", "2026-03-01").value();
  CHECK(correction_of(job.target) == Matrix<SheetSpace, SheetSpace>{});
  CHECK(live_area_of_file(job.target) == live_area_of_file(job.target.sheet, reverses_later(job.target)));
  auto const with = place_for(job.target, job.target.placement, job.subject, false, Unit::inch);
  auto const without = place(job.subject, job.target.sheet, job.target.placement, false, reverses_later(job.target), Unit::inch);
  REQUIRE(std::holds_alternative<Placement>(with) == std::holds_alternative<Placement>(without));
  if (auto const* placement = std::get_if<Placement>(&with)) CHECK(placement->matrix == std::get<Placement>(without).matrix);
}

TEST_CASE("by hand: a shift to the right and a stretch, and who reverses") {
  // 8.5 x 17 in = 612 x 1224 pt, middle 306,612. The press prints 3 pt too far right and 1 % too long.
  Target t;
  t.press.correct = true;
  t.press.trial = parse_trial("shift-x=3pt,along=1.01", "2026-03-01").value();
  auto const by_file = correction_of(t).apply(Point<SheetSpace>{306, 0});
  CHECK(by_file.x == Approx(303));
  CHECK(by_file.y == Approx(612 - 612 / 1.01));
  t.reverse_at = ReverseAt::printer;  // the page is turned over on its way: left is right
  CHECK(correction_of(t).apply(Point<SheetSpace>{306, 0}).x == Approx(309));
  // A quarter inch of margin: the file keeps 18 + 3 pt free at the side that is printed at the left.
  CHECK(live_area_of_file(t).x0 == Approx(21));
  CHECK(live_area_at_press(t).x0 == Approx(15));
}

TEST_CASE("what the press does not print, as it gets the page") {
  Target t;
  CHECK(printable_at_press(t) == Rect<SheetSpace>{0, 0, 612, 1224});
  t.press.trial = parse_trial("left=20pt,top=10pt", "2026-03-01").value();
  CHECK(printable_at_press(t) == Rect<SheetSpace>{20, 0, 612, 1214});
  t.reverse_at = ReverseAt::printer;
  CHECK(printable_at_press(t) == Rect<SheetSpace>{20, 0, 612, 1214});
  CHECK(at_press(t, {10, 20, 30, 40}) == Rect<SheetSpace>{582, 20, 602, 40});
}
