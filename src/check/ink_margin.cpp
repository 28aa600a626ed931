// A quarter inch lets a second sheet cover all of the art.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

struct MarginSide {
  char const* name;
  char const* figure;
  double room, margin;  // from the ink, and from the live area, to the page's edge; points
};

std::array<MarginSide, 4> sides_of(Rect<SeenSpace> const& ink, Rect<SeenSpace> const& live, Rect<SeenSpace> const& page) {
  return {{{"left", "left_pt", ink.x0 - page.x0, live.x0 - page.x0},
           {"bottom", "bottom_pt", ink.y0 - page.y0, live.y0 - page.y0},
           {"right", "right_pt", page.x1 - ink.x1, page.x1 - live.x1},
           {"top", "top_pt", page.y1 - ink.y1, page.y1 - live.y1}}};
}

/// Level and what to do about it.
std::pair<Level, std::string> remedy(PageView const& view, Rect<SeenSpace> const& ink) {
  auto const result = placement_for(view, ink);
  if (std::holds_alternative<PlaceRefusal>(result)) return {Level::hold, "`lay` cannot fix it as asked: ink.size says why, and what would do"};
  if (std::get<Placement>(result).outside) return {Level::note, "this was allowed (--allow-outside)"};
  bool const scales = std::get<Placement>(result).scale != 1;
  return {Level::fix, scales ? "`lay` scales it to " + scale_words(view, std::get<Placement>(result).scale) + " and moves it inside"
                             : std::string("`lay` moves it inside")};
}

std::vector<Finding> ink_margin_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks || !view.marks->ink || !view.marks->ink_known) return {};
  auto const match = sheet_match(view.page.seen, view.target);
  if (match == SheetMatch::other_size) return {};
  auto const& ink = *view.marks->ink;
  auto const live = live_area_seen(view.page, view.target, match);
  double const tolerance = view.target.limits.margin_tolerance.in_points();
  if (live.contains(ink, tolerance)) return {};

  auto [level, what_to_do] = remedy(view, ink);
  Finding f{.check = "ink.margin", .level = level};
  auto const sides = sides_of(ink, live, view.page.seen.rect());
  bool const even = std::ranges::all_of(sides, [&](MarginSide const& s) { return std::abs(s.margin - sides[0].margin) <= tolerance; });
  auto const free = [&](MarginSide const& side) { return format_length(Length::points(side.margin), view.unit) + " must stay free"; };
  std::vector<std::string> parts;
  for (MarginSide const& side : sides) {
    f.measured.emplace_back(side.figure, side.room);
    f.wanted.emplace_back(side.figure, side.margin);
    if (side.margin - side.room <= tolerance) continue;
    parts.push_back(format_excess(side.margin - side.room, view.unit) + " at the " + side.name + (even ? "" : " (" + free(side) + ")"));
  }
  f.message = "ink reaches into the margin by " + joined(parts) + "; " + (even ? free(sides[0]) + "; " : "") + what_to_do;
  f.where = ink;
  return {f};
}

}  // namespace

CheckInfo ink_margin() {
  return {.id = "ink.margin",
          .levels = "fix; hold where the asked scale forbids the fix; note with --allow-outside",
          .title = "ink lies outside the live area of a page of the sheet's size",
          .measures = "how far ink stays off each edge of the page, in points",
          .limit = "the margins of the sheet, a quarter inch unless it says otherwise (sheet, margin)",
          .source = "common practice, no published source (the quarter inch); ISO 32000-1, 14.11.2 (what is seen)",
          .does_not_cover = "pages of other sizes (ink.size decides there, by the placement)",
          .explain =
              "The second sheet must cover all of the art when it is weeded, and no press prints to the very edge, so ink stays a quarter "
              "inch off every edge. What counts is ink that leaves toner: white paper, transparent parts and hidden layers do not (on a press "
              "that lays white, white does). The check looks only at pages of the sheet's size; art on other pages is placed anyway, and "
              "ink.size says whether it fits. `lay` moves art that fits inside. Art that is larger than the live area is held as long as "
              "its scale is to be kept: --scale shrink lets it be made smaller. Where the printer or the RIP reverses later, left and right "
              "margins are those of the file, mirrored.",
          .needs_marks = true,
          .page = ink_margin_findings};
}

}  // namespace layright
