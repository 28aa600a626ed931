#include "place/correction.h"

#include <algorithm>

namespace layright {
namespace {

/// The correction of a page as the press gets it.
Matrix<SheetSpace, SheetSpace> correction_at_press(Target const& target) {
  if (!target.press.correct || !target.press.trial) return {};
  Trial const& trial = *target.press.trial;
  auto const middle = target.sheet.page().centre();
  double const kx = 1 / trial.stretch_across.value_or(1), ky = 1 / trial.stretch_along.value_or(1);
  double const dx = trial.shift_x.value_or(Length()).in_points(), dy = trial.shift_y.value_or(Length()).in_points();
  return {kx, 0, 0, ky, middle.x - kx * (middle.x + dx), middle.y - ky * (middle.y + dy)};
}

/// The sheet with margins that are at least as wide as what the press, corrected, could print only from beyond the page's edge.
Sheet reachable_sheet(Target const& target) {
  Sheet sheet = target.sheet;
  auto const page = sheet.page();
  auto const printed = correction_at_press(target).inverted();
  if (!printed) return sheet;
  auto const bounds = printed->apply(page);
  auto const widen = [](Length& margin, double least) { margin = std::max(margin, Length::points(least)); };
  widen(sheet.margins.left, bounds.x0 - page.x0);
  widen(sheet.margins.bottom, bounds.y0 - page.y0);
  widen(sheet.margins.right, page.x1 - bounds.x1);
  widen(sheet.margins.top, page.y1 - bounds.y1);
  return sheet;
}

}  // namespace

Matrix<SheetSpace, SheetSpace> correction_of(Target const& target) {
  auto correction = correction_at_press(target);
  // Mirrored, corrected, mirrored back: only the move across changes.
  if (reverses_later(target)) correction.e = target.sheet.page().width() * (1 - correction.a) - correction.e;
  return correction;
}

Rect<SheetSpace> at_press(Target const& target, Rect<SheetSpace> const& of_file) {
  return reverses_later(target) ? mirrored(of_file, target.sheet) : of_file;
}

Rect<SheetSpace> live_area_at_press(Target const& target) { return correction_at_press(target).apply(reachable_sheet(target).live_area()); }

Rect<SheetSpace> live_area_of_file(Target const& target) { return at_press(target, live_area_at_press(target)); }

Rect<SheetSpace> printable_at_press(Target const& target) {
  Sheet sheet = target.sheet;
  sheet.margins = target.press.trial ? target.press.trial->unprintable() : Margins{};
  return sheet.live_area();
}

PlaceResult place_for(Target const& target, PlacementOptions const& options, PlaceSubject const& subject, bool reverse, Unit unit) {
  auto result = place(subject, reachable_sheet(target), options, reverse, reverses_later(target), unit, target.limits.margin_tolerance);
  auto const correction = correction_of(target);
  auto* const placement = std::get_if<Placement>(&result);
  if (!placement || correction == Matrix<SheetSpace, SheetSpace>{}) return result;
  placement->matrix = then(placement->matrix, correction);
  placement->correction = correction;
  if (placement->ink) placement->ink = correction.apply(*placement->ink);
  return result;
}

}  // namespace layright
