#include "place/axis.h"

#include <algorithm>
#include <cmath>
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
  return room >= 0 ? Span{-kEndless, kEndless} : Span{1, 0};
}

}  // namespace

Span common(Span a, Span b) { return {std::max(a.lo, b.lo), std::min(a.hi, b.hi)}; }

double Axis::turning_point() const { return only_live || rect <= 0 ? kEndless : (live.length() + kRounding) / rect; }

double Axis::start(double scale) const {
  Span const area = scale <= turning_point() ? live : sheet;
  return area.lo + anchor * (area.length() - scale * rect) + offset;
}

Span Axis::ink_at(double scale) const {
  double const s = start(scale);
  return {s + scale * ink.lo, s + scale * ink.hi};
}

Span Axis::scales_in(Span area) const {
  // start + s * ink.lo >= limit.lo and start + s * ink.hi <= limit.hi, with start = fixed - s * anchor * rect.
  double const fixed = area.lo + anchor * area.length() + offset;
  return common(scales_below(anchor * rect - ink.lo, fixed - limit.lo + tolerance),
                scales_below(ink.hi - anchor * rect, limit.hi - fixed + tolerance));
}

std::array<Span, 2> Axis::scales_that_fit() const {
  double const turning = turning_point();
  return {common({kSmallestScale, turning}, scales_in(live)), common({std::nextafter(turning, kEndless), kEndless}, scales_in(sheet))};
}

std::vector<Span> scales_that_fit(Axis const& x, Axis const& y) {
  std::vector<Span> both;
  for (Span const a : x.scales_that_fit())
    for (Span const b : y.scales_that_fit())
      if (Span const s = common(a, b); !s.empty()) both.push_back(s);
  std::ranges::sort(both, {}, &Span::lo);
  std::vector<Span> apart;
  for (Span const s : both) {
    if (!apart.empty() && s.lo <= std::nextafter(apart.back().hi, kEndless)) apart.back().hi = std::max(apart.back().hi, s.hi);
    else apart.push_back(s);
  }
  return apart;
}

}  // namespace layright
