// Weights of a small network that says how much a shape looks like a letter or a digit that stands upright; made by
// tests/reading/teach_ways.py. Data; do not edit by hand.
#pragma once
#include <array>
#include <string_view>

namespace layright {

/// A shape over a square of 16 x 16 cells, ink 0 to 1, less kWaysMiddle; two layers of units that pass on what is above zero; a sum.
/// Weights are written one character each (way_weight), times the unit's scale.
inline constexpr int kWaysSide = 16, kWaysFirst = 72, kWaysSecond = 24;
inline constexpr float kWaysMiddle = 0.3F;
struct WaysUnit {
  float scale, bias;
  std::string_view weights;
};
extern std::array<WaysUnit, kWaysFirst> const kWaysFirstUnits;
extern std::array<WaysUnit, kWaysSecond> const kWaysSecondUnits;
extern std::array<float, kWaysSecond> const kWaysLast;

/// -45 to 45: the characters from # to }, but ~ for the backslash and ! for the question mark.
constexpr int way_weight(char c) { return c == '~' ? '\\' - 80 : c == '!' ? '?' - 80 : c - 80; }

}  // namespace layright
