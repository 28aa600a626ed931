// The numbers of a proof: never on the drawing, never on each other, each with a line that ends at its place. All by the drawing's own geometry.
#include "report/side_labels.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <set>

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
    std::vector<DrawnRect> places(static_cast<std::size_t>(between(0, 80)));
    bool const crowded = round % 3 == 0;  // all at one point, or anywhere
    double const at_x = between(drawing.x0, drawing.x1), at_y = between(drawing.y0, drawing.y1);
    for (auto& p : places) {
      double const ax = crowded ? at_x : between(drawing.x0, drawing.x1), ay = crowded ? at_y : between(drawing.y0, drawing.y1);
      p = {ax, ay, between(ax, drawing.x1), between(ay, drawing.y1)};
    }
    auto const labels = side_labels(drawing, kGap, kSide, places);
    auto const room = 2 * static_cast<std::size_t>((drawing.y1 - drawing.y0) / kSide);
    REQUIRE(labels.size() == std::min(places.size(), room));
    std::set<std::size_t> served;
    for (auto const& label : labels) {
      served.insert(label.place);
      REQUIRE_FALSE(label.box.meets(drawing));
      REQUIRE((label.box.x1 <= drawing.x0 - kGap + 1e-9 || label.box.x0 >= drawing.x1 + kGap - 1e-9));
      REQUIRE((label.box.y0 >= drawing.y0 - 1e-9 && label.box.y1 <= drawing.y1 + 1e-9));
      REQUIRE(holds(label.box, label.x0, label.y0));
      REQUIRE(holds(places[label.place], label.x1, label.y1));
      for (auto const& other : labels) {
        DrawnRect const shrunk{other.box.x0 + 1e-6, other.box.y0 + 1e-6, other.box.x1 - 1e-6, other.box.y1 - 1e-6};
        REQUIRE((&other == &label || !label.box.meets(shrunk)));
      }
    }
    REQUIRE(served.size() == labels.size());
    for (std::size_t i = 0; i < labels.size(); ++i) REQUIRE(served.contains(i));  // the first are served first
  }
}

TEST_CASE("a number alone stands level with its place, on its side") {
  DrawnRect const drawing{100, 100, 300, 500};
  auto const left = side_labels(drawing, kGap, kSide, {{110, 200, 130, 220}}), right = side_labels(drawing, kGap, kSide, {{270, 200, 290, 220}});
  REQUIRE(left.size() == 1);
  REQUIRE(right.size() == 1);
  CHECK(left[0].box.x1 == 93);
  CHECK(right[0].box.x0 == 307);
  CHECK(left[0].y0 == 210);
  CHECK(left[0].y1 == 210);
  CHECK(left[0].x1 == 110);
  CHECK(right[0].x1 == 290);
}
