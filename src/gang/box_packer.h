// Boxes on sheets, one after another in a given order.
#pragma once
#include <cstdint>
#include <vector>

#include "gang/free_places.h"

namespace layright {

/// In which order, and how, boxes are put on sheets.
struct BoxOrder {
  std::vector<std::size_t> order;
  BoxFit fit = BoxFit::short_side;
  bool first_sheet = true;  // the first that has room; else of all open ones the one where it fits best
  BoxStance stance = BoxStance::free;
  bool straight = false;  // parted by straight cuts even where that is not asked for
};

struct PackedBoxes {
  std::vector<BoxSpot> spots;      // of each box
  std::vector<std::int64_t> used;  // of each sheet, the area
  int sheets() const { return static_cast<int>(used.size()); }
  /// The sheet with the least on it.
  std::size_t emptiest() const;
};

/// Opens a new sheet where no open one has room. Every box must fit an empty sheet. Nothing where it takes more than `most_sheets`.
std::optional<PackedBoxes> pack_boxes(GangBoxes const& boxes, BoxOrder const& order, int most_sheets);

/// Some of the boxes on one sheet of another height; false where they do not all fit. `spots` of these are written.
bool pack_one_sheet(GangBoxes const& boxes, BoxOrder const& order, std::int64_t width, std::int64_t height, std::vector<BoxSpot>& spots);

/// Orders to begin with: by area, by the longer side, by the height, by the sum of the sides, the largest first.
inline constexpr int kSortKeys = 4, kFits = 4, kStances = 3;
std::vector<std::size_t> sorted_boxes(GangBoxes const& boxes, std::vector<std::size_t> which, int key);

}  // namespace layright
