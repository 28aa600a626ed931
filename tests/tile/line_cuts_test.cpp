// Cuts along one line against every way that there is, on lines short enough to try them all.
#include "tile/line_cuts.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

namespace layright {
namespace {

using Catch::Matchers::WithinAbs;

constexpr double kSame = 1e-6;

/// The length between cuts that piece `number` of `pieces` may have.
double most(LineToCut const& line, int pieces, int number) {
  bool const end = number == 1 || number == pieces;
  return pieces == 1 ? line.longest : line.longest - (end ? line.overlap / 2 : line.overlap);
}

/// Tries all cuts at the steps of `costs`, one piece after another.
double by_trying_all(LineToCut const& line, int pieces, CutCosts const& costs, int number = 1, double from = 0) {
  double const least = shortest_piece(line, pieces);
  if (number == pieces)
    return line.length - from <= most(line, pieces, number) + kSame && line.length - from >= least - kSame ? 0
                                                                                                           : std::numeric_limits<double>::infinity();
  double best = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i + 1 < costs.size(); ++i) {
    double const at = line.length * static_cast<double>(i) / static_cast<double>(costs.size() - 1);
    if (at - from < least - kSame || at - from > most(line, pieces, number) + kSame) continue;
    best = std::min(best, costs[i] + by_trying_all(line, pieces, costs, number + 1, at));
  }
  return best;
}

/// By laying them down one after another, the longest that may be.
int count_by_laying(LineToCut const& line) {
  if (line.length <= line.longest) return 1;
  double reached = line.longest;
  int pieces = 1;
  for (; reached < line.length - 1e-9; ++pieces) reached += line.longest - line.overlap;
  return pieces;
}

}  // namespace

TEST_CASE("How few pieces there can be") {
  // Worked by hand: live area 16.5 in long.
  CHECK(fewest_pieces({1188, 1188, 0}) == 1);
  CHECK(fewest_pieces({1188.01, 1188, 0}) == 2);
  CHECK(fewest_pieces({2376, 1188, 0}) == 2);
  CHECK(fewest_pieces({2376, 1188, 18}) == 3);
  CHECK(fewest_pieces({2358, 1188, 18}) == 2);
  CHECK(fewest_pieces({14400, 1188, 0}) == 13);
  CHECK(fewest_pieces({100, 18, 18}) == 0);
  CHECK(fewest_pieces({100, 10, 18}) == 0);
  CHECK(fewest_pieces({10, 18, 18}) == 1);
}

TEST_CASE("Pieces counted by laying them down") {
  std::mt19937 random(Catch::rngSeed());
  std::uniform_real_distribution<double> length(1, 5000), longest(50, 1200), share(0, 0.5);
  for (int i = 0; i < 2000; ++i) {
    LineToCut line{length(random), longest(random), 0};
    line.overlap = share(random) * line.longest;
    CAPTURE(line.length, line.longest, line.overlap);
    CHECK(fewest_pieces(line) == count_by_laying(line));
  }
}

TEST_CASE("The cheapest cuts are those that trying all of them finds") {
  std::mt19937 random(Catch::rngSeed());
  std::uniform_int_distribution<int> steps(6, 22), cost(0, 9);
  std::uniform_real_distribution<double> share(0, 0.5), slack(0.02, 0.9);
  for (int i = 0; i < 400; ++i) {
    int const n = steps(random);
    LineToCut line{40.0 * n, 0, 0};
    int const wanted = 2 + i % 3;
    line.longest = line.length / wanted * (1 + slack(random));
    if (i % 2 == 0) line.overlap = share(random) * line.longest * 0.4;
    int const pieces = fewest_pieces(line);
    if (pieces < 2) continue;
    CutCosts costs;
    for (int s = 0; s <= n; ++s) costs.push_back(cost(random));
    auto const cuts = cheapest_cuts(line, pieces, costs);
    CAPTURE(n, line.longest, line.overlap, pieces, cuts.at);
    // Between steps it may find cheaper ones: at the ends of what is possible.
    CHECK(cuts.cost <= by_trying_all(line, pieces, costs) + kSame);
    REQUIRE(cuts.at.size() == static_cast<std::size_t>(pieces - 1));
    double before = 0, sum = 0;
    for (std::size_t c = 0; c <= cuts.at.size(); ++c) {
      double const end = c == cuts.at.size() ? line.length : cuts.at[c];
      CHECK(end - before <= most(line, pieces, static_cast<int>(c) + 1) + kSame);
      CHECK(end - before >= shortest_piece(line, pieces) - kSame);
      if (c < cuts.at.size()) sum += cost_at(costs, line.length, end);
      before = end;
    }
    CHECK_THAT(cuts.cost, WithinAbs(sum, kSame));
  }
}

TEST_CASE("Art that leaves no choice is cut where it must be") {
  CutCosts const costs(100, 1);
  auto const cuts = cheapest_cuts({2376, 1188, 0}, 2, costs);
  REQUIRE(cuts.at.size() == 1);
  CHECK_THAT(cuts.at[0], WithinAbs(1188, kSame));
  auto const overlapping = cheapest_cuts({2358, 1188, 18}, 2, costs);
  CHECK_THAT(overlapping.at[0], WithinAbs(1179, kSame));
}

TEST_CASE("A gap is cut in its middle") {
  CutCosts costs(101, 5);
  for (std::size_t i = 40; i <= 60; ++i) costs[i] = 0;
  auto const cuts = cheapest_cuts({1000, 800, 0}, 2, costs);
  CHECK_THAT(cuts.at[0], WithinAbs(500, kSame));
  CHECK(cuts.cost == 0);
}

TEST_CASE("No piece is a sliver") {
  CutCosts costs(201, 9);
  costs[1] = 0;  // the cheapest, a point from the edge
  auto const cuts = cheapest_cuts({1200, 1188, 0}, 2, costs);
  CHECK(cuts.at[0] >= 36 - kSame);
}

TEST_CASE("A cut is moved to the middle of its gap, as far as its pieces let it") {
  LineToCut const line{200, 120, 0};
  CutCosts costs(201, 5);
  for (std::size_t i = 97; i <= 101; ++i) costs[i] = 0;  // free from 97 to 101
  for (double const from : {97.0, 98.0, 99.0, 100.5, 101.0}) {
    LineCuts cuts{{from}, 0};
    to_middle_of_gaps(cuts, line, costs, 10);
    CHECK_THAT(cuts.at[0], WithinAbs(99, 0.51));
  }
  LineCuts bound{{97.0}, 0};
  to_middle_of_gaps(bound, {200, 102.5, 0}, costs, 10);  // the second piece may be no longer than that
  CHECK_THAT(bound.at[0], WithinAbs(99, 0.51));
  bound = {{98.0}, 0};
  to_middle_of_gaps(bound, {198, 100, 0}, CutCosts(199, 0), 10);
  CHECK_THAT(bound.at[0], WithinAbs(98, 1e-9));  // all is free as far as it looks: it stays
  CutCosts open(201, 0);
  for (std::size_t i = 0; i <= 97; ++i) open[i] = 5;
  LineCuts beside{{98.0}, 0};
  to_middle_of_gaps(beside, line, open, 10);
  CHECK_THAT(beside.at[0], WithinAbs(103, 1e-9));  // off the ink, half of how far it looks
}

}  // namespace layright
