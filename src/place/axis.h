// Placing along one axis of the sheet: where a scaled rectangle comes to lie, and at which scales its ink stays inside.
#pragma once
#include <array>
#include <vector>

namespace layright {

/// From lo to hi, in points; lo > hi means that nothing is in it.
struct Span {
  double lo = 0, hi = 0;
  double length() const { return hi - lo; }
  bool empty() const { return !(lo <= hi); }
};
Span common(Span a, Span b);

/// All in points of sheet space along one axis, after the page was reversed and turned; scale 1 is the page as it came.
struct Axis {
  double rect = 0;        // length of the rectangle that is anchored
  Span ink;               // of the ink, counted from the rectangle's low end; of a blank page: the rectangle
  Span live, sheet;       // the live area and the whole sheet
  Span limit;             // what `ink` must stay inside: `live`, or `sheet` for a blank page
  bool only_live = true;  // anchored to the live area even where it is larger (placing by ink)
  double anchor = 0.5;    // 0: low ends meet, 0.5: middles, 1: high ends
  double offset = 0;
  double tolerance = 0;  // how far ink may pass `limit` and still be inside

  /// Where the rectangle's low end comes to lie.
  double start(double scale) const;
  Span ink_at(double scale) const;
  /// By how much ink passes the low and the high end of `limit`; negative where there is room.
  double below(double scale) const { return limit.lo - ink_at(scale).lo; }
  double above(double scale) const { return ink_at(scale).hi - limit.hi; }
  bool fits(double scale) const { return below(scale) <= tolerance && above(scale) <= tolerance; }
  /// The scales from kSmallestScale up that fit: those at which the rectangle is put against the live area, and the larger ones at which
  /// it is put against the sheet. Either may be empty.
  std::array<Span, 2> scales_that_fit() const;

 private:
  /// The largest scale at which the rectangle is put against the live area.
  double turning_point() const;
  Span scales_in(Span area) const;
};

inline constexpr double kSmallestScale = 0.001;  // nobody wants to be told of a smaller one

/// The scales at which both axes fit, the lowest first; they do not touch. A rectangle that is put elsewhere once it has outgrown the live
/// area may fit again at a scale above one that does not.
std::vector<Span> scales_that_fit(Axis const& x, Axis const& y);

}  // namespace layright
