// The numbers of a proof: never on the drawing, never on each other, each with a line that ends at its place. All by the drawing's own geometry.
#include "report/side_labels.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>
#include <random>

using layright::DrawnRect;
using layright::side_labels;

namespace {

constexpr double kGap = 7, kSide = 21;

bool holds(DrawnRect const& outer, double x, double y) {
  constexpr double kNoise = 1e-9;
  return x >= outer.x0 - kNoise && x <= outer.x1 + kNoise && y >= outer.y0 - kNoise && y <= outer.y1 + kNoise;
}

}  // namespace

TEST_CASE("numbers stand beside the drawing, whatever is marked on it") {
  std::mt19937 random(Catch::rngSeed());
  auto const between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  for (int round = 0; round < 500; ++round) {
    double const x = between(0, 300), y = between(0, 300);
    DrawnRect const drawing{x, y, x + between(10, 600), y + between(10, 600)};
    std::vector<std::vector<DrawnRect>> findings(static_cast<std::size_t>(between(0, 80)));
    bool const crowded = round % 3 == 0;  // all at one point, or anywhere
    double const at_x = between(drawing.x0, drawing.x1), at_y = between(drawing.y0, drawing.y1);
    for (auto& places : findings) {
      places.resize(static_cast<std::size_t>(between(0, 30)));
      for (auto& p : places) {
        double const ax = crowded ? at_x : between(drawing.x0, drawing.x1), ay = crowded ? at_y : between(drawing.y0, drawing.y1);
        p = {ax, ay, between(ax, drawing.x1), between(ay, drawing.y1)};
      }
    }
    auto const is_right = [&](DrawnRect const& p) { return p.x0 + p.x1 > drawing.x0 + drawing.x1; };
    std::vector<std::size_t> sides;  // how many margins each finding wants to be in
    for (auto const& places : findings) {
      auto const right = static_cast<std::size_t>(std::ranges::count_if(places, is_right));
      sides.push_back((right > 0) + (right < places.size()));
    }
    auto const labels = side_labels(drawing, kGap, kSide, findings);
    auto const room = 2 * static_cast<std::size_t>((drawing.y1 - drawing.y0) / kSide);
    REQUIRE(labels.size() == std::min(std::accumulate(sides.begin(), sides.end(), std::size_t{0}), room));
    std::vector<std::size_t> served(findings.size()), stands_for(findings.size());
    for (auto const& label : labels) {
      ++served[label.finding];
      stands_for[label.finding] += label.count;
      REQUIRE_FALSE(label.box.meets(drawing));
      REQUIRE((label.right ? label.box.x0 >= drawing.x1 + kGap - 1e-9 : label.box.x1 <= drawing.x0 - kGap + 1e-9));
      REQUIRE((label.box.y0 >= drawing.y0 - 1e-9 && label.box.y1 <= drawing.y1 + 1e-9));
      REQUIRE(label.lines.size() == std::min(label.count, layright::kMostLines));
      for (auto const& line : label.lines) {
        REQUIRE(holds(label.box, line.x0, line.y0));
        REQUIRE(std::ranges::any_of(findings[label.finding], [&](DrawnRect const& p) { return holds(p, line.x1, line.y1); }));
      }
      for (auto const& other : labels) {
        DrawnRect const shrunk{other.box.x0 + 1e-6, other.box.y0 + 1e-6, other.box.x1 - 1e-6, other.box.y1 - 1e-6};
        REQUIRE((&other == &label || !label.box.meets(shrunk)));
      }
    }
    bool short_of_room = false;  // the first are served first
    for (std::size_t i = 0; i < findings.size(); ++i) {
      REQUIRE((served[i] == sides[i] || labels.size() == room));
      if (served[i] == sides[i]) REQUIRE(stands_for[i] == findings[i].size());
      if (short_of_room) REQUIRE(served[i] == 0);
      short_of_room = short_of_room || served[i] < sides[i];
    }
  }
}

TEST_CASE("a number alone stands level with its place, on its side") {
  DrawnRect const drawing{100, 100, 300, 500};
  auto const left = side_labels(drawing, kGap, kSide, {{{110, 200, 130, 220}}}), right = side_labels(drawing, kGap, kSide, {{{270, 200, 290, 220}}});
  REQUIRE(left.size() == 1);
  REQUIRE(right.size() == 1);
  CHECK(left[0].box.x1 == 93);
  CHECK(right[0].box.x0 == 307);
  REQUIRE(left[0].lines.size() == 1);
  CHECK(left[0].lines[0].y0 == 210);
  CHECK(left[0].lines[0].y1 == 210);
  CHECK(left[0].lines[0].x1 == 110);
  CHECK(right[0].lines[0].x1 == 290);
}

TEST_CASE("many places of one finding have one number, with lines to the nearest") {
  DrawnRect const drawing{0, 0, 400, 400};
  std::vector<DrawnRect> dots;
  for (int i = 0; i < 20; ++i) dots.push_back({10.0 + 8 * i, 10.0 + 18 * i, 14.0 + 8 * i, 14.0 + 18 * i});
  auto const labels = side_labels(drawing, kGap, kSide, {dots, {{390, 200, 395, 205}}});
  REQUIRE(labels.size() == 2);
  CHECK(labels[0].count == 20);
  REQUIRE(labels[0].lines.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) CHECK(labels[0].lines[i].x1 == dots[i].x0);
  CHECK(labels[1].count == 1);
  CHECK(labels[1].right);
}
