#include "check/common.h"

#include <cmath>

#include "place/correction.h"

namespace layright {
namespace {

constexpr double kRounding = 1e-6;  // points: what adding up decimals may leave; far below every limit

bool same_size(double w, double h, Rect<SheetSpace> const& page, double tolerance) {
  return std::abs(w - page.width()) <= tolerance + kRounding && std::abs(h - page.height()) <= tolerance + kRounding;
}

}  // namespace

bool can_be_seen(Page const& page) { return page.usable && page.clockwise.has_value(); }

SheetMatch sheet_match(SeenSize const& seen, Target const& target) {
  auto const page = target.sheet.page();
  double const tolerance = target.limits.size_tolerance.in_points();
  if (same_size(seen.width, seen.height, page, tolerance)) return SheetMatch::as_fed;
  if (same_size(seen.height, seen.width, page, tolerance)) return SheetMatch::other_way;
  return SheetMatch::other_size;
}

PlaceResult placement_for(PageView const& view, Rect<SeenSpace> const& ink) {
  if (view.placement) return *view.placement;
  PlaceSubject const subject{as_meant(view.page, ink), view.page.seen_trim(), view.page.seen.rect()};
  return place_for(view.target, view.target.placement, subject, false, view.unit);
}

Rect<SeenSpace> as_meant(Page const& page, Rect<SeenSpace> const& ink) {
  auto const back = page.record && page.record->holds ? page.record->correction.inverted() : std::nullopt;
  if (!back) return ink;
  auto const meant = back->apply(Rect<SheetSpace>{ink.x0, ink.y0, ink.x1, ink.y1});
  return {meant.x0, meant.y0, meant.x1, meant.y1};
}

Rect<SeenSpace> live_area_seen(Page const& page, Target const& target, SheetMatch match) {
  auto const live = live_area_of_file(target);
  if (match == SheetMatch::as_fed) return {live.x0, live.y0, live.x1, live.y1};
  Turn turn = target.placement.turn.value_or(Turn::quarter);
  if (!swaps_sides(turn)) turn = Turn::quarter;
  turn = turn_seen(turn, reverses_later(target));
  auto const turned = rotation<SeenSpace, SheetSpace>(turn);
  auto const lies = turned.apply(page.seen.rect());
  return then(turned, translation<SheetSpace>(-lies.x0, -lies.y0)).inverted()->apply(live);
}

std::string scale_words(PageView const& view, double scale) {
  bool const laid = view.page.record && view.page.record->holds;
  return laid ? format_scale(scale * view.page.record->scale) + " of the original" : format_scale(scale);
}

std::string size_text(double width, double height, Unit unit) { return format_size(Length::points(width), Length::points(height), unit); }

std::string sheet_text(Sheet const& sheet, Unit unit) {
  auto const page = sheet.page();
  bool const named_by_size = !sheet.name.empty() && sheet.name[0] >= '0' && sheet.name[0] <= '9';
  if (named_by_size) return size_text(page.width(), page.height(), unit);
  return sheet.name + " (" + size_text(page.width(), page.height(), unit) + ")";
}

std::string joined(std::vector<std::string> const& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  return text;
}

std::string counted(long count, std::string const& one, std::string const& many) { return std::to_string(count) + " " + (count == 1 ? one : many); }

Figures size_figures(double width_pt, double height_pt) { return {{"width_pt", width_pt}, {"height_pt", height_pt}}; }

Finding size_finding(std::string_view id, std::string message, PageView const& view) {
  auto const& seen = view.page.seen;
  auto const sheet = view.target.sheet.page();
  Finding f{.check = std::string(id), .level = Level::fix, .message = std::move(message), .where = seen.rect()};
  f.measured = size_figures(seen.width, seen.height);
  f.wanted = size_figures(sheet.width(), sheet.height());
  return f;
}

}  // namespace layright
