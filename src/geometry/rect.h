// Points and upright rectangles in one space.
#pragma once
#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/space.h"

namespace layright {

template <class Space>
struct Point {
  double x = 0, y = 0;
  bool operator==(Point const&) const = default;
};

/// An upright rectangle, x0 <= x1 and y0 <= y1, edges included. A rectangle may have no area (a hairline has none); that nothing
/// is there at all is said by std::optional<Rect>, never by a special rectangle.
template <class Space>
struct Rect {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;

  /// From any two opposite corners (ISO 32000-1, 7.9.5).
  static constexpr Rect from_corners(double ax, double ay, double bx, double by) {
    return {std::min(ax, bx), std::min(ay, by), std::max(ax, bx), std::max(ay, by)};
  }
  constexpr double width() const { return x1 - x0; }
  constexpr double height() const { return y1 - y0; }
  constexpr double area() const { return width() * height(); }
  constexpr Point<Space> centre() const { return {(x0 + x1) / 2, (y0 + y1) / 2}; }
  constexpr Rect moved(double dx, double dy) const { return {x0 + dx, y0 + dy, x1 + dx, y1 + dy}; }
  /// Each edge outward by d (inward when negative; an edge never passes its opposite: the middle is kept then).
  constexpr Rect grown(double d) const {
    Rect r{x0 - d, y0 - d, x1 + d, y1 + d};
    if (r.x0 > r.x1) r.x0 = r.x1 = (x0 + x1) / 2;
    if (r.y0 > r.y1) r.y0 = r.y1 = (y0 + y1) / 2;
    return r;
  }
  /// Whether `other` lies inside, with `slack` points allowed beyond each edge.
  constexpr bool contains(Rect const& other, double slack = 0) const {
    return other.x0 >= x0 - slack && other.y0 >= y0 - slack && other.x1 <= x1 + slack && other.y1 <= y1 + slack;
  }
  bool finite() const { return std::isfinite(x0) && std::isfinite(y0) && std::isfinite(x1) && std::isfinite(y1); }
  bool operator==(Rect const&) const = default;
};

/// What both cover; nothing when they are apart. Rectangles that only touch share an edge without area.
template <class Space>
constexpr std::optional<Rect<Space>> intersection(Rect<Space> const& a, Rect<Space> const& b) {
  Rect<Space> r{std::max(a.x0, b.x0), std::max(a.y0, b.y0), std::min(a.x1, b.x1), std::min(a.y1, b.y1)};
  if (r.x0 > r.x1 || r.y0 > r.y1) return std::nullopt;
  return r;
}

/// The smallest rectangle around both.
template <class Space>
constexpr Rect<Space> united(Rect<Space> const& a, Rect<Space> const& b) {
  return {std::min(a.x0, b.x0), std::min(a.y0, b.y0), std::max(a.x1, b.x1), std::max(a.y1, b.y1)};
}
template <class Space>
constexpr std::optional<Rect<Space>> united(std::optional<Rect<Space>> const& a, std::optional<Rect<Space>> const& b) {
  if (!a) return b;
  if (!b) return a;
  return united(*a, *b);
}

/// As a viewer shows a page.
using SeenPoint = Point<SeenSpace>;
using SeenRect = Rect<SeenSpace>;

}  // namespace layright
