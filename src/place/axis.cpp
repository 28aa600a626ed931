#include "place/axis.h"

#include <algorithm>
#include <limits>

namespace layright {
namespace {

constexpr double kEndless = std::numeric_limits<double>::infinity();
// A rectangle scaled to exactly the live area must count as fitting it in spite of rounding; far below any tolerance that is checked.
constexpr double kRounding = 1e-7;

/// The s with s * slope <= room.
Span scales_below(double slope, double room) {
  if (slope > 0) return {-kEndless, room / slope};
  if (slope < 0) return {room / slope, kEndless};
  return room >= -kRounding ? Span{-kEndless, kEndless} : Span{1, 0};
}

}  // namespace

Span common(Span a, Span b) { return {std::max(a.lo, b.lo), std::min(a.hi, b.hi)}; }

bool Axis::against_live(double scale) const { return only_live || scale * rect <= live.length() + kRounding; }

double Axis::start(double scale) const {
  Span const area = against_live(scale) ? live : sheet;
  return area.lo + anchor * (area.length() - scale * rect) + offset;
}

Span Axis::ink_at(double scale) const {
  double const s = start(scale);
  return {s + scale * ink.lo, s + scale * ink.hi};
}

Span Axis::scales_in(Span area) const {
  // start + s * ink.lo >= limit.lo and start + s * ink.hi <= limit.hi, with start = fixed - s * anchor * rect.
  double const fixed = area.lo + anchor * area.length() + offset;
  return common(scales_below(anchor * rect - ink.lo, fixed - limit.lo), scales_below(ink.hi - anchor * rect, limit.hi - fixed));
}

std::array<Span, 2> Axis::scales_that_fit() const {
  Span const useful{kSmallestScale, kEndless};
  if (only_live || rect <= 0) return {common(useful, scales_in(live)), Span{1, 0}};
  double const turning_point = live.length() / rect;
  return {common({useful.lo, turning_point}, scales_in(live)), common({turning_point, kEndless}, scales_in(sheet))};
}

double largest_scale(Axis const& x, Axis const& y) {
  double best = 0;
  for (Span const a : x.scales_that_fit()) {
    for (Span const b : y.scales_that_fit()) {
      if (Span const both = common(a, b); !both.empty()) best = std::max(best, both.hi);
    }
  }
  return best;
}

}  // namespace layright
