#include "tile/line_cuts.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace layright {
namespace {

constexpr double kNoise = 1e-6;     // points; far below what any cutter keeps
constexpr double kLeastPiece = 36;  // points: what is narrower is hard to press. Our own
constexpr double kSameCost = 1e-9;
constexpr double kDear = std::numeric_limits<double>::infinity();

double inner_longest(LineToCut const& line) { return line.longest - line.overlap; }
double outer_longest(LineToCut const& line) { return line.longest - line.overlap / 2; }

/// Between cuts, so without what overlaps: how long a piece may be that lies between the cuts `number - 1` and `number`, counted from 1.
double longest_between(LineToCut const& line, int pieces, int number) {
  return number == 1 || number == pieces ? outer_longest(line) : inner_longest(line);
}

/// Every step, and the ends of each cut's range, which may lie between two.
std::vector<double> places_to_cut(LineToCut const& line, int pieces, std::size_t steps) {
  std::vector<double> places;
  for (std::size_t i = 1; i + 1 < steps; ++i) places.push_back(line.length * static_cast<double>(i) / static_cast<double>(steps - 1));
  for (int number = 2; number <= pieces; ++number) {
    auto const range = cut_range(line, pieces, number);
    places.insert(places.end(), {range.lo, range.hi});
  }
  std::ranges::sort(places);
  return places;
}

/// Moves a cut to the middle of the places beside it that cost the same and lie within lo and hi.
std::size_t middle_of_same(std::vector<double> const& places, std::vector<double> const& costs, std::size_t cut, double lo, double hi) {
  auto const same = [&](std::size_t i) {
    return std::abs(costs[i] - costs[cut]) <= kSameCost && places[i] >= lo - kNoise && places[i] <= hi + kNoise;
  };
  auto first = cut, last = cut;
  while (first > 0 && same(first - 1)) --first;
  while (last + 1 < places.size() && same(last + 1)) ++last;
  return first + (last - first) / 2;
}

}  // namespace

int fewest_pieces(LineToCut const& line) {
  if (line.length <= line.longest + kNoise) return 1;
  if (inner_longest(line) <= kNoise) return 0;
  double const pieces = std::ceil((line.length - line.overlap - kNoise) / inner_longest(line));
  return pieces < 1e6 ? static_cast<int>(pieces) : 0;
}

double shortest_piece(LineToCut const& line, int pieces) { return std::min(std::max(line.overlap, kLeastPiece), line.length / (2.0 * pieces)); }

CutRange cut_range(LineToCut const& line, int pieces, int number) {
  int const before = number - 1, after = pieces - before;
  double const least = shortest_piece(line, pieces), outer = outer_longest(line), inner = inner_longest(line);
  return {std::max(before * least, line.length - outer - (after - 1) * inner), std::min(line.length - after * least, outer + (before - 1) * inner)};
}

double length_of_ranges(LineToCut const& line, int pieces) {
  double length = 0;
  for (int number = 2; number <= pieces; ++number) {
    auto const range = cut_range(line, pieces, number);
    length += range.hi - range.lo;
  }
  return length;
}

double cost_at(CutCosts const& costs, double length, double where) {
  double const step = std::clamp(where / length, 0.0, 1.0) * static_cast<double>(costs.size() - 1);
  auto const i = std::min(static_cast<std::size_t>(step), costs.size() - 2);
  double const part = step - static_cast<double>(i);
  return costs[i] + part * (costs[i + 1] - costs[i]);
}

void to_middle_of_gaps(LineCuts& cuts, LineToCut const& line, CutCosts const& costs, double most) {
  int const pieces = static_cast<int>(cuts.at.size()) + 1;
  double const least = shortest_piece(line, pieces), step = line.length / static_cast<double>(costs.size() - 1);
  for (std::size_t n = 0; n < cuts.at.size(); ++n) {
    double const at = cuts.at[n], here = cost_at(costs, line.length, at) + kSameCost;
    auto const is_free = [&](double place) { return place >= 0 && place <= line.length && cost_at(costs, line.length, place) <= here; };
    double first = at, last = at;
    while (at - first < most && is_free(first - step)) first -= step;
    while (last - at < most && is_free(last + step)) last += step;
    int const piece = static_cast<int>(n) + 1;  // it ends here
    double const before = n == 0 ? 0 : cuts.at[n - 1], after = n + 1 == cuts.at.size() ? line.length : cuts.at[n + 1];
    double const lo = std::max(before + least, after - longest_between(line, pieces, piece + 1));
    double const hi = std::min(before + longest_between(line, pieces, piece), after - least);
    if (lo <= hi) cuts.at[n] = std::clamp((first + last) / 2, lo, hi);
  }
}

LineCuts cheapest_cuts(LineToCut const& line, int pieces, CutCosts const& costs) {
  LineCuts cuts;
  if (pieces < 2) return cuts;
  auto const places = places_to_cut(line, pieces, costs.size());
  std::vector<double> cost;
  for (double const place : places) cost.push_back(cost_at(costs, line.length, place));
  double const least = shortest_piece(line, pieces);

  // best[n][i]: all cuts up to the one before piece n + 2, where that lies at places[i]; from[n][i]: the cut before it.
  auto const n_cuts = static_cast<std::size_t>(pieces - 1);
  std::vector<std::vector<double>> best(n_cuts, std::vector<double>(places.size(), kDear));
  std::vector<std::vector<std::size_t>> from(n_cuts, std::vector<std::size_t>(places.size(), 0));
  for (std::size_t n = 0; n < n_cuts; ++n) {
    auto const range = cut_range(line, pieces, static_cast<int>(n) + 2);
    double const longest = longest_between(line, pieces, static_cast<int>(n) + 1);
    std::size_t first = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (places[i] < range.lo - kNoise || places[i] > range.hi + kNoise) continue;
      if (n == 0) {
        best[n][i] = cost[i];
        continue;
      }
      while (places[first] < places[i] - longest - kNoise) ++first;
      for (auto before = first; before < i && places[before] <= places[i] - least + kNoise; ++before)
        if (double const sum = best[n - 1][before] + cost[i]; sum < best[n][i]) best[n][i] = sum, from[n][i] = before;
    }
  }

  std::vector<std::size_t> at(n_cuts);
  at.back() = static_cast<std::size_t>(std::min_element(best.back().begin(), best.back().end()) - best.back().begin());
  cuts.cost = best.back()[at.back()];
  for (auto n = n_cuts - 1; n > 0; --n) at[n - 1] = from[n][at[n]];
  for (std::size_t n = 0; n < n_cuts; ++n) {
    int const piece = static_cast<int>(n) + 1;  // it ends here
    double const before = n == 0 ? 0 : places[at[n - 1]], after = n + 1 == n_cuts ? line.length : places[at[n + 1]];
    double const lo = std::max(before + least, after - longest_between(line, pieces, piece + 1));
    double const hi = std::min(before + longest_between(line, pieces, piece), after - least);
    at[n] = middle_of_same(places, cost, at[n], lo, hi);
    cuts.at.push_back(places[at[n]]);
  }
  return cuts;
}

}  // namespace layright
