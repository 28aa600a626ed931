#include "place/place_laid.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace layright {
namespace {

constexpr double kSameSheet = 0.01;  // points; arithmetic noise only

bool same_sheet(LayRecord const& record, Target const& target) {
  auto const page = target.sheet.page();
  return std::abs(record.sheet.width() - page.width()) <= kSameSheet && std::abs(record.sheet.height() - page.height()) <= kSameSheet;
}

PlacementOptions options_of(LayRecord const& record, PlacementOptions options) {
  if (options.asked.size) return options;
  options.scale = PlacementOptions::Scale::percent;
  options.percent = record.scale * 100;
  options.width.reset();
  options.height.reset();
  if (!options.asked.turn) options.turn = turn_seen(record.turn, record.reversed_later);
  return options;
}

/// As it was laid: for the file, before the press is corrected, so that the printed sheet shows it where it was to lie then.
Placement as_it_lies(LayRecord const& record, Target const& target, PlaceSubject const& subject, bool reverse,
                     Matrix<SheetSpace, SheetSpace> const& uncorrected) {
  Placement p;
  p.scale = record.scale;
  p.reversed = reverse;
  p.reversed_later = reverses_later(target);
  p.turn = turn_seen(turn_seen(record.turn, record.reversed_later), p.reversed_later);
  p.matrix = then(record.placement, uncorrected);
  if (reverse == record.reversed && p.reversed_later == record.reversed_later) return p;
  auto const rect = subject.ink.value_or(subject.page);
  auto lies = p.matrix.apply(rect);
  if (p.reversed_later != record.reversed_later) lies = mirrored(lies, target.sheet);
  auto const start = reverse ? reversal<SeenSpace>() : Matrix<SeenSpace, SeenSpace>{};
  auto const oriented = then(then(start, rotation<SeenSpace, SheetSpace>(p.turn)), scaling<SheetSpace>(p.scale));
  auto const where = oriented.apply(rect);
  p.matrix = then(oriented, translation<SheetSpace>(lies.x0 - where.x0, lies.y0 - where.y0));
  return p;
}

bool near(Matrix<SeenSpace, SheetSpace> const& m, Matrix<SeenSpace, SheetSpace> const& n) {
  std::array const off{m.a - n.a, m.b - n.b, m.c - n.c, m.d - n.d, m.e - n.e, m.f - n.f};
  return std::ranges::all_of(off, [](double d) { return std::abs(d) < kPlacementNoise; });
}

/// Nothing where it cannot be kept.
std::optional<Placement> kept(LayRecord const& record, Target const& target, PlaceSubject const& subject, bool reverse) {
  auto const uncorrected = record.correction.inverted();
  if (target.placement.asked.any() || !same_sheet(record, target) || !uncorrected) return std::nullopt;
  auto p = as_it_lies(record, target, subject, reverse, *uncorrected);
  p.correction = correction_of(target);
  bool const unchanged = reverse == record.reversed && p.reversed_later == record.reversed_later && p.correction == record.correction;
  p.matrix = unchanged ? record.placement : then(p.matrix, p.correction);
  if (subject.ink) p.ink = p.matrix.apply(*subject.ink);
  double const tolerance = target.limits.margin_tolerance.in_points() + kPlacementNoise;
  bool const fits =
      p.ink ? live_area_of_file(target).contains(*p.ink, tolerance) : target.sheet.page().contains(p.matrix.apply(subject.page), tolerance);
  p.outside = p.ink && !fits;
  if (!fits && !(target.placement.allow_outside && p.ink)) return std::nullopt;
  return p;
}

}  // namespace

PlaceResult place_laid(LayRecord const& record, Target const& target, PlaceSubject const& subject, bool reverse, Unit unit) {
  auto const as_laid = kept(record, target, subject, reverse);
  if (as_laid && as_laid->matrix == record.placement) return *as_laid;
  auto const anew = place_for(target, options_of(record, target.placement), subject, reverse, unit);
  // The same to rounding: then the one that a fresh page would get, to the last digit.
  auto const* fresh = std::get_if<Placement>(&anew);
  if (as_laid && !(fresh && near(fresh->matrix, as_laid->matrix))) return *as_laid;
  return anew;
}

}  // namespace layright
