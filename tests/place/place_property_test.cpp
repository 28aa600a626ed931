// Properties that hold for every placement, over random pages and options, and a naive model that builds the matrix step by step.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "place/place.h"

using namespace layright;

namespace {

using Scale = PlacementOptions::Scale;

/// Random but repeatable.
class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  double real(double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(engine_); }
  int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(engine_); }
  bool coin() { return below(2) == 1; }

 private:
  std::mt19937 engine_;
};

struct Job {
  PlaceSubject subject;
  Sheet sheet;
  PlacementOptions options;
  bool reverse = false, later = false;
  PlaceResult result() const { return place(subject, sheet, options, reverse, later, Unit::inch); }
};

Rect<SeenSpace> inside(Dice& dice, Rect<SeenSpace> const& r) {
  // One after the other: in a call's arguments each compiler throws them in an order of its own.
  double const x0 = dice.real(r.x0, r.x1), y0 = dice.real(r.y0, r.y1), x1 = dice.real(r.x0, r.x1), y1 = dice.real(r.y0, r.y1);
  return Rect<SeenSpace>::from_corners(x0, y0, x1, y1);
}

Job random_job(unsigned seed) {
  Dice dice(seed);
  Job job;
  job.subject.page = {0, 0, dice.real(100, 1400), dice.real(100, 1400)};
  job.subject.trim = dice.coin() ? job.subject.page : inside(dice, job.subject.page);
  if (dice.below(8) != 0) job.subject.ink = inside(dice, job.subject.page);
  if (dice.coin()) job.sheet.width = Length::inches(12.5), job.sheet.length = Length::inches(19);
  if (dice.coin()) job.sheet.feed = Feed::long_edge;
  if (dice.coin()) {
    job.sheet.margins = {Length::points(dice.real(0, 60)), Length::points(dice.real(0, 60)), Length::points(dice.real(0, 60)),
                         Length::points(dice.real(0, 60))};
  }
  job.options.scale = static_cast<Scale>(dice.below(4));
  if (job.options.scale == Scale::percent) job.options.percent = dice.real(5, 200);
  if (job.options.scale == Scale::keep && dice.below(3) == 0) job.options.width = Length::points(dice.real(20, 700));
  if (job.options.scale == Scale::keep && dice.below(3) == 0) job.options.height = Length::points(dice.real(20, 700));
  if (dice.coin()) job.options.turn = static_cast<Turn>(90 * dice.below(4));
  job.options.by = static_cast<PlaceBy>(dice.below(3));
  job.options.at = static_cast<Anchor>(dice.below(9));
  if (dice.below(3) == 0) job.options.offset_x = Length::points(dice.real(-40, 40)), job.options.offset_y = Length::points(dice.real(-40, 40));
  job.options.allow_outside = dice.below(4) == 0;
  job.reverse = dice.coin();
  job.later = !job.reverse && dice.coin();
  return job;
}

Rect<SeenSpace> placed_rectangle(Job const& job) {
  if (job.options.by == PlaceBy::trim) return job.subject.trim;
  return job.options.by == PlaceBy::ink && job.subject.ink ? *job.subject.ink : job.subject.page;
}

/// What a person would do on paper for a printed sheet: corner by corner, no matrix algebra. Gives where a point of seen space lies.
Point<SheetSpace> naive(Job const& job, Turn turn, double scale, Point<SeenSpace> p) {
  auto const oriented = [&](double x, double y) {
    if (job.reverse) x = -x;
    for (int quarter = 0; quarter < degrees(turn) / 90; ++quarter) {
      double const old = x;
      x = -y;
      y = old;
    }
    return Point<SheetSpace>{x * scale, y * scale};
  };
  auto const r = placed_rectangle(job);
  auto const a = oriented(r.x0, r.y0), b = oriented(r.x1, r.y1);
  auto const lies = Rect<SheetSpace>::from_corners(a.x, a.y, b.x, b.y);
  auto const page = job.sheet.page(), live = job.sheet.live_area();
  bool const by_ink = job.options.by == PlaceBy::ink && job.subject.ink;
  auto const target = [&](double low, double high, double length, double live_low, double live_high, double at) {
    bool const in_live = by_ink || length <= live_high - live_low + 1e-7;
    double const from = in_live ? live_low : low, to = in_live ? live_high : high;
    return at < 0 ? from : at > 0 ? to - length : (from + to - length) / 2;
  };
  auto const at = job.options.at;
  bool const left = at == Anchor::left || at == Anchor::top_left || at == Anchor::bottom_left;
  bool const right = at == Anchor::right || at == Anchor::top_right || at == Anchor::bottom_right;
  bool const top = at == Anchor::top || at == Anchor::top_left || at == Anchor::top_right;
  bool const bottom = at == Anchor::bottom || at == Anchor::bottom_left || at == Anchor::bottom_right;
  double x = target(page.x0, page.x1, lies.width(), live.x0, live.x1, left ? -1 : right ? 1 : 0) + job.options.offset_x.in_points();
  double const y = target(page.y0, page.y1, lies.height(), live.y0, live.y1, bottom ? -1 : top ? 1 : 0) + job.options.offset_y.in_points();
  if (job.later) x = page.x1 - x - lies.width();  // the printed sheet, held against the light
  auto const q = oriented(p.x, p.y);
  return {q.x - lies.x0 + x, q.y - lies.y0 + y};
}

int const kJobs = 4000;

}  // namespace

TEST_CASE("the matrix is what a naive model makes step by step") {
  int placed = 0;
  for (int seed = 0; seed < kJobs; ++seed) {
    Job const job = random_job(static_cast<unsigned>(seed));
    auto const result = job.result();
    auto const* p = std::get_if<Placement>(&result);
    if (!p) continue;
    ++placed;
    CAPTURE(seed);
    for (auto const corner : {Point<SeenSpace>{0, 0}, Point<SeenSpace>{100, 0}, Point<SeenSpace>{13, 77}}) {
      auto const got = p->matrix.apply(corner), expected = naive(job, p->turn, p->scale, corner);
      REQUIRE_THAT(got.x, Catch::WithinAbs(expected.x, 1e-5));
      REQUIRE_THAT(got.y, Catch::WithinAbs(expected.y, 1e-5));
    }
  }
  CHECK(placed > kJobs / 4);
}

TEST_CASE("every placement is a similarity by quarter turns, and undone it gives the start") {
  for (int seed = 0; seed < kJobs; ++seed) {
    Job const job = random_job(static_cast<unsigned>(seed));
    auto const result = job.result();
    auto const* p = std::get_if<Placement>(&result);
    if (!p) continue;
    CAPTURE(seed);
    auto const& m = p->matrix;
    bool const upright = m.b == 0 && m.c == 0, lying = m.a == 0 && m.d == 0;
    REQUIRE((upright != lying));
    double const u = upright ? std::abs(m.a) : std::abs(m.b), v = upright ? std::abs(m.d) : std::abs(m.c);
    REQUIRE(u == v);
    REQUIRE(u == p->scale);
    REQUIRE(m.mirrors() == job.reverse);
    REQUIRE(p->reversed == job.reverse);
    auto const back = m.inverted();
    REQUIRE(back);
    auto const q = back->apply(m.apply(Point<SeenSpace>{123, 456}));
    REQUIRE_THAT(q.x, Catch::WithinAbs(123, 1e-6));
    REQUIRE_THAT(q.y, Catch::WithinAbs(456, 1e-6));
    if (job.options.turn) REQUIRE(turn_seen(p->turn, job.later) == *job.options.turn);  // as the printed sheet shows it
    if (job.options.scale == Scale::shrink) REQUIRE(p->scale <= 1);
  }
}

TEST_CASE("ink lies inside the live area unless that was allowed and told") {
  double const tolerance = Limits{}.margin_tolerance.in_points() + 1e-9;
  for (int seed = 0; seed < kJobs; ++seed) {
    Job const job = random_job(static_cast<unsigned>(seed));
    auto const result = job.result();
    auto const* p = std::get_if<Placement>(&result);
    if (!p) continue;
    CAPTURE(seed);
    REQUIRE(p->ink.has_value() == job.subject.ink.has_value());
    if (p->outside) REQUIRE(job.options.allow_outside);
    if (!p->ink) continue;
    REQUIRE(live_area_of_file(job.sheet, job.later).contains(*p->ink, tolerance) == !p->outside);
  }
}

TEST_CASE("the scale that a refusal names does fit, and a larger one does not") {
  int named = 0;
  for (int seed = 0; seed < kJobs; ++seed) {
    Job job = random_job(static_cast<unsigned>(seed));
    job.options.allow_outside = false;
    auto const result = job.result();
    auto const* refusal = std::get_if<PlaceRefusal>(&result);
    if (!refusal || refusal->largest_scale <= 0) continue;
    CAPTURE(seed, refusal->message);
    REQUIRE_FALSE(refusal->message.empty());
    ++named;
    job.options.width = job.options.height = std::nullopt;
    job.options.scale = Scale::percent;
    job.options.percent = refusal->largest_scale * 100 * (1 - 1e-9);  // people see it rounded
    REQUIRE(std::holds_alternative<Placement>(job.result()));
    for (double const more : {1 + 1e-6, 1.01, 1.5, 4.0}) {
      job.options.percent = refusal->largest_scale * 100 * more;
      REQUIRE(std::holds_alternative<PlaceRefusal>(job.result()));
    }
  }
  CHECK(named > 200);
}

TEST_CASE("the scale that a refusal's message tells does fit") {
  int reported = 0, up = 0;
  for (unsigned seed = 0; seed < unsigned{kJobs}; ++seed) {
    Job job = random_job(seed);
    job.options.allow_outside = false;
    auto const result = job.result();
    auto const* refusal = std::get_if<PlaceRefusal>(&result);
    if (!refusal) continue;
    CAPTURE(seed, refusal->message);
    auto const at = refusal->message.find("(--scale ");
    if (at == std::string::npos) {  // it is the place, not the size, that must change
      REQUIRE((refusal->largest_scale <= 0 || refusal->message.find("it would fit, but placed by") != std::string::npos));
      continue;
    }
    ++reported;
    double const before = job.options.scale == Scale::percent ? job.options.percent : 100;
    job.options.width = job.options.height = std::nullopt;
    job.options.scale = Scale::percent;
    job.options.percent = std::stod(refusal->message.substr(at + 9));
    if (job.options.percent > before) ++up;
    REQUIRE(std::holds_alternative<Placement>(job.result()));
    if (refusal->message.find(" or less (--scale") == std::string::npos) continue;
    for (double const less : {0.9, 0.5, 0.1}) {
      Job smaller = job;
      smaller.options.percent *= less;
      REQUIRE(std::holds_alternative<Placement>(smaller.result()));
    }
  }
  CHECK(reported > 200);
  CHECK(up > 0);
}

TEST_CASE("placing a second time moves nothing") {
  for (int seed = 0; seed < kJobs; ++seed) {
    Job job = random_job(static_cast<unsigned>(seed));
    job.options.width = job.options.height = std::nullopt;
    job.options.scale = GENERATE(Scale::keep, Scale::fit, Scale::shrink);
    job.options.by = PlaceBy::ink;
    job.options.turn = std::nullopt;
    job.options.allow_outside = false;
    if (job.options.scale == Scale::fit) job.options.offset_x = job.options.offset_y = Length();
    auto const result = job.result();
    auto const* p = std::get_if<Placement>(&result);
    if (!p || !p->ink) continue;
    CAPTURE(seed);
    auto const page = job.sheet.page();
    Job again = job;
    Rect<SeenSpace> const seen{page.x0, page.y0, page.x1, page.y1};
    again.subject = {Rect<SeenSpace>{p->ink->x0, p->ink->y0, p->ink->x1, p->ink->y1}, seen, seen};
    again.reverse = false;
    auto const second = again.result();
    REQUIRE(std::holds_alternative<Placement>(second));
    REQUIRE((std::get<Placement>(second).matrix == Matrix<SeenSpace, SheetSpace>{}));
  }
}
