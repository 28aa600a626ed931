// Boxes in whole thousandths of a point, so that what touches does not overlap: each is a piece with the gap on its right and above it.
#pragma once
#include <cstdint>
#include <vector>

#include "gang/gang.h"

namespace layright {

struct GangBox {
  std::int64_t width = 0, height = 0;
  bool may_turn = false;
  std::int64_t area() const { return width * height; }
};

struct GangBoxes {
  std::int64_t width = 0, height = 0;  // of the sheet: its live area and one gap, for that of the pieces at its right and upper edge
  std::vector<GangBox> boxes;
  bool straight = false;
};

inline constexpr double kUnitsAPoint = 1000;

GangBoxes boxes_of(std::vector<GangPiece> const& pieces, GangRules const& rules);

/// Where a box lies on its sheet.
struct BoxSpot {
  int sheet = 0;
  std::int64_t x = 0, y = 0;
  bool turned = false;
};

}  // namespace layright
