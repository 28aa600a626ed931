// The physical piece of film or paper, as the shop means it.
#pragma once
#include <optional>
#include <string>

#include "base/result.h"
#include "geometry/length.h"
#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

/// The edge that enters the press first (IPP media-source-feed-direction).
enum class Feed { short_edge, long_edge };

/// How far ink stays off each edge of the sheet as a page (SheetSpace).
struct Margins {
  Length left, bottom, right, top;
  static Margins all(Length m) { return {m, m, m, m}; }
  bool operator==(Margins const&) const = default;
};

/// The quarter inch that lets the second sheet cover all of the art when it is weeded: common practice, no published source.
inline constexpr Length kUsualMargin = Length::inches(0.25);

struct Sheet {
  std::string name = "8.5x17in";
  Length width = Length::inches(8.5);  // the shorter side
  Length length = Length::inches(17);  // the longer side, never below width
  Margins margins = Margins::all(kUsualMargin);
  Feed feed = Feed::short_edge;
  std::optional<double> price;  // of one sheet, in the currency of the press

  /// The sheet as a page: short edge horizontal for a short-edge feed, else long edge horizontal; lower left at the origin.
  Rect<SheetSpace> page() const {
    double const w = width.in_points(), l = length.in_points();
    return feed == Feed::short_edge ? Rect<SheetSpace>{0, 0, w, l} : Rect<SheetSpace>{0, 0, l, w};
  }
  /// The page less its margins. The configuration refuses margins that leave nothing.
  Rect<SheetSpace> live_area() const {
    auto const p = page();
    return {p.x0 + margins.left.in_points(), p.y0 + margins.bottom.in_points(), p.x1 - margins.right.in_points(), p.y1 - margins.top.in_points()};
  }
};

/// Error (usage) when a margin is below zero or the margins leave no live area; lengths are told in `unit`.
Outcome check_margins(Sheet const& sheet, Unit unit);

}  // namespace layright
