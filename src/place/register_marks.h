// Register marks: small crosses at the same places of all that is laid on one sheet in several passes.
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

/// How far a mark reaches from its middle, and how wide its lines are: the least that a press shows and an eye lines up. Our own.
inline constexpr double kRegisterReach = 9, kRegisterLine = 0.5;  // points
inline constexpr std::size_t kLeastRegisterMarks = 2;             // fewer do not tell a turn from a shift

/// What they take at an end of the live area, with what keeps them from ink.
inline constexpr double kRegisterRoom = 2 * kRegisterReach + kRegisterLine + 2.5;

/// The middles of the marks: in the corners and at the middles of the edges of the live area of the file, where there is no ink. Fewer than
/// kLeastRegisterMarks: there is no room.
std::vector<Point<SheetSpace>> register_marks(Rect<SheetSpace> const& live, std::optional<Rect<SheetSpace>> const& ink);

}  // namespace layright
