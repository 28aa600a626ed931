// Affine maps between spaces. The spaces are part of the type, so a wrong order does not compile.
#pragma once
#include <optional>

#include "geometry/rect.h"
#include "geometry/turn.h"

namespace layright {

/// x' = a x + c y + e, y' = b x + d y + f (the six numbers as PDF writes them, ISO 32000-1, 8.3.3).
template <class From, class To>
struct Matrix {
  double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;

  constexpr Point<To> apply(Point<From> p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }
  /// The upright rectangle around the image of `r`.
  constexpr Rect<To> apply(Rect<From> const& r) const {
    auto const p = apply(Point<From>{r.x0, r.y0}), q = apply(Point<From>{r.x1, r.y0});
    auto const s = apply(Point<From>{r.x0, r.y1}), t = apply(Point<From>{r.x1, r.y1});
    return {std::min({p.x, q.x, s.x, t.x}), std::min({p.y, q.y, s.y, t.y}), std::max({p.x, q.x, s.x, t.x}), std::max({p.y, q.y, s.y, t.y})};
  }
  constexpr double determinant() const { return a * d - b * c; }
  constexpr bool mirrors() const { return determinant() < 0; }
  /// Nothing when the map is flat.
  constexpr std::optional<Matrix<To, From>> inverted() const {
    double const det = determinant();
    if (det == 0 || !std::isfinite(det)) return std::nullopt;
    Matrix<To, From> m;
    m.a = d / det;
    m.b = -b / det;
    m.c = -c / det;
    m.d = a / det;
    m.e = (c * f - d * e) / det;
    m.f = (b * e - a * f) / det;
    return m;
  }
  bool operator==(Matrix const&) const = default;
};

/// First `first`, then `second`.
template <class A, class B, class C>
constexpr Matrix<A, C> then(Matrix<A, B> const& first, Matrix<B, C> const& second) {
  Matrix<A, C> m;
  m.a = first.a * second.a + first.b * second.c;
  m.b = first.a * second.b + first.b * second.d;
  m.c = first.c * second.a + first.d * second.c;
  m.d = first.c * second.b + first.d * second.d;
  m.e = first.e * second.a + first.f * second.c + second.e;
  m.f = first.e * second.b + first.f * second.d + second.f;
  return m;
}

template <class From, class To = From>
constexpr Matrix<From, To> translation(double dx, double dy) {
  return {1, 0, 0, 1, dx, dy};
}
template <class From, class To = From>
constexpr Matrix<From, To> scaling(double k) {
  return {k, 0, 0, k, 0, 0};
}
/// Reverses x about the vertical axis x = 0: what a mirror does to art.
template <class From, class To = From>
constexpr Matrix<From, To> reversal() {
  return {-1, 0, 0, 1, 0, 0};
}
/// Counterclockwise about the origin; exact.
template <class From, class To = From>
constexpr Matrix<From, To> rotation(Turn turn) {
  switch (turn) {
    case Turn::quarter: return {0, 1, -1, 0, 0, 0};
    case Turn::half: return {-1, 0, 0, -1, 0, 0};
    case Turn::three_quarters: return {0, -1, 1, 0, 0, 0};
    case Turn::none: break;
  }
  return {1, 0, 0, 1, 0, 0};
}

}  // namespace layright
