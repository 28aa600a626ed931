// Looks at an arrangement without a line of what made it: each piece against each other, exactly; and whether straight cuts part them.
#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include "gang/gang.h"

namespace layright::test {

struct LaidBox {
  double x0, y0, x1, y1;
};

inline LaidBox laid_box(GangPiece const& piece, GangSlot const& slot) {
  bool const turned = swaps_sides(slot.turn);
  return {slot.x, slot.y, slot.x + (turned ? piece.height : piece.width), slot.y + (turned ? piece.width : piece.height)};
}

/// Empty: every piece lies once, inside the live area, no nearer than the gap to any other, and turned only where it may be.
inline std::string what_is_wrong(std::vector<GangPiece> const& pieces, GangRules const& rules, GangLayout const& layout) {
  constexpr double kRounding = 1e-9;
  if (layout.slots.size() != pieces.size()) return "not every piece lies once";
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    auto const& slot = layout.slots[i];
    auto const name = "piece " + std::to_string(i);
    if (slot.piece != i) return name + " is another one";
    if (slot.sheet < 0 || slot.sheet >= layout.sheets) return name + " is on no sheet";
    if (slot.turn != Turn::none && pieces[i].turns == PieceTurns::none) return name + " is turned";
    auto const a = laid_box(pieces[i], slot);
    if (a.x0 < 0 || a.y0 < 0 || a.x1 > rules.width + kRounding || a.y1 > rules.height + kRounding) return name + " leaves the live area";
    for (std::size_t j = 0; j < i; ++j) {
      if (layout.slots[j].sheet != slot.sheet) continue;
      auto const b = laid_box(pieces[j], layout.slots[j]);
      double const apart = std::max({a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1});
      if (apart < rules.gap - kRounding) return name + " is " + std::to_string(apart) + " from piece " + std::to_string(j);
    }
  }
  return {};
}

/// Whether boxes can be parted by cuts that each run through all that is left.
inline bool parted_by_straight_cuts(std::vector<LaidBox> const& boxes) {
  if (boxes.size() < 2) return true;
  for (bool const upright : {true, false}) {
    auto const low = [&](LaidBox const& b) { return upright ? b.x0 : b.y0; };
    auto const high = [&](LaidBox const& b) { return upright ? b.x1 : b.y1; };
    for (auto const& edge : boxes) {
      double const cut = high(edge);
      std::vector<LaidBox> before, after;
      bool through = true;
      for (auto const& b : boxes) {
        if (high(b) <= cut + 1e-9) before.push_back(b);
        else if (low(b) >= cut - 1e-9) after.push_back(b);
        else through = false;
      }
      if (through && !after.empty()) return parted_by_straight_cuts(before) && parted_by_straight_cuts(after);
    }
  }
  return false;
}

inline bool parted_by_straight_cuts(std::vector<GangPiece> const& pieces, GangLayout const& layout) {
  std::vector<std::vector<LaidBox>> sheets(static_cast<std::size_t>(layout.sheets));
  for (auto const& slot : layout.slots) sheets[static_cast<std::size_t>(slot.sheet)].push_back(laid_box(pieces[slot.piece], slot));
  return std::ranges::all_of(sheets, [](auto const& boxes) { return parted_by_straight_cuts(boxes); });
}

}  // namespace layright::test
