#include "gang/boxes.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

constexpr double kNoise = 1e-7;      // units: of arithmetic
constexpr std::int64_t kSlack = 10;  // units: as far as ink may pass the live area (Limits::margin_tolerance)

std::int64_t at_least(double points) { return static_cast<std::int64_t>(std::ceil(points * kUnitsAPoint - kNoise)); }
std::int64_t at_most(double points) { return static_cast<std::int64_t>(std::floor(points * kUnitsAPoint + kNoise)); }

/// A side that is as good as the sheet's is the sheet's.
std::int64_t side_of(double points, std::int64_t sheet_a, std::int64_t sheet_b) {
  auto const side = std::max<std::int64_t>(at_least(points), 1);
  for (auto const sheet : {sheet_a, sheet_b})
    if (side > sheet && side <= sheet + kSlack) return sheet;
  return side;
}

}  // namespace

GangBoxes boxes_of(std::vector<GangPiece> const& pieces, GangRules const& rules) {
  GangBoxes out;
  auto const width = at_most(rules.width), height = at_most(rules.height), gap = at_least(rules.gap);
  out.width = width + gap;
  out.height = height + gap;
  out.straight = rules.cuts == Cuts::straight;
  for (auto const& piece : pieces)
    out.boxes.push_back({side_of(piece.width, width, height) + gap, side_of(piece.height, height, width) + gap, piece.turns != PieceTurns::none});
  return out;
}

}  // namespace layright
