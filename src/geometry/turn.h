// A quarter turn, never a bare number.
#pragma once
#include <optional>

namespace layright {

/// How far something is turned, counterclockwise, in degrees.
enum class Turn { none = 0, quarter = 90, half = 180, three_quarters = 270 };

constexpr int degrees(Turn turn) { return static_cast<int>(turn); }
constexpr bool swaps_sides(Turn turn) { return turn == Turn::quarter || turn == Turn::three_quarters; }

/// The turn of any whole number of degrees counterclockwise, also negative or above 360; nothing if it is no multiple of 90.
constexpr std::optional<Turn> turn_of(long long counterclockwise_degrees) {
  if (counterclockwise_degrees % 90 != 0) return std::nullopt;
  return static_cast<Turn>(((counterclockwise_degrees % 360) + 360) % 360);
}
constexpr Turn inverse(Turn turn) { return static_cast<Turn>((360 - degrees(turn)) % 360); }
constexpr Turn then(Turn a, Turn b) { return static_cast<Turn>((degrees(a) + degrees(b)) % 360); }

}  // namespace layright
