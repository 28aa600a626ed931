#include "marks/stroke_extents.h"

#include <algorithm>
#include <cmath>

#include "marks/stroke_walker.h"

namespace layright {
namespace {

/// Takes the pieces of a stroke whole: exact, also for curves and discs.
class WholePieces {
 public:
  WholePieces(ToSeen const& matrix, double radius) : matrix_(matrix), radius_(radius), across_{matrix.a, matrix.c}, upward_{matrix.b, matrix.d} {}
  std::optional<SeenRect> const& box() const { return box_; }

  void band(Vec p, Vec q, Vec n) {
    for (auto v : {p + n, p - n, q + n, q - n}) add(v);
  }
  void curve(Vec p0, Vec p1, Vec p2, Vec p3, Vec n0, Vec n1) {
    for (auto v : {p0 + n0, p0 - n0, p3 + n1, p3 - n1}) add(v);
    // Where the curve runs square to an axis of seen space its normal points along that axis: the band ends a disc's reach away.
    extremes(p0, p1, p2, p3, across_, [&](Vec p) { add_x(p, radius_); });
    extremes(p0, p1, p2, p3, upward_, [&](Vec p) { add_y(p, radius_); });
  }
  void sector(Vec p, Vec n0, Vec n1) {
    double const turn = cross(n0, n1);
    auto between = [&](Vec v) { return cross(n0, v) * turn >= 0 && cross(v, n1) * turn >= 0; };
    for (double sign : {1.0, -1.0}) {
      if (between(across_ * sign)) add_along(p, across_, sign, true);
      if (between(upward_ * sign)) add_along(p, upward_, sign, false);
    }
    add(p + n0);
    add(p + n1);
  }
  void half_disc(Vec p, Vec d) {
    Vec const n = left_of(d) * radius_;
    add(p + n);
    add(p - n);
    for (double sign : {1.0, -1.0}) {
      if (dot(across_, d) * sign >= 0) add_along(p, across_, sign, true);
      if (dot(upward_, d) * sign >= 0) add_along(p, upward_, sign, false);
    }
  }
  void polygon(std::array<Vec, 4> const& points) {
    for (auto p : points) add(p);
  }

 private:
  template <class F>
  static void extremes(Vec p0, Vec p1, Vec p2, Vec p3, Vec axis, F&& f) {
    double at[2];
    for (int k = cubic_extrema(dot(p0, axis), dot(p1, axis), dot(p2, axis), dot(p3, axis), at); k-- > 0;)
      f(Vec{cubic_at(p0.x, p1.x, p2.x, p3.x, at[k]), cubic_at(p0.y, p1.y, p2.y, p3.y, at[k])});
  }
  void add(Vec v) {
    auto const p = matrix_.apply(v);
    widen(p.x, p.y, p.x, p.y);
  }
  void add_x(Vec v, double radius) {
    auto const p = matrix_.apply(v);
    double const r = radius * std::hypot(across_.x, across_.y);
    widen(p.x - r, p.y, p.x + r, p.y);
  }
  void add_y(Vec v, double radius) {
    auto const p = matrix_.apply(v);
    double const r = radius * std::hypot(upward_.x, upward_.y);
    widen(p.x, p.y - r, p.x, p.y + r);
  }
  void add_along(Vec v, Vec axis, double sign, bool is_x) {
    auto const p = matrix_.apply(v);
    double const r = sign * radius_ * std::hypot(axis.x, axis.y);
    if (is_x) widen(p.x + std::min(r, 0.0), p.y, p.x + std::max(r, 0.0), p.y);
    else widen(p.x, p.y + std::min(r, 0.0), p.x, p.y + std::max(r, 0.0));
  }
  void widen(double x0, double y0, double x1, double y1) {
    SeenRect const b{x0, y0, x1, y1};
    box_ = box_ ? united(*box_, b) : b;
  }
  ToSeen const& matrix_;
  double radius_;
  Vec across_, upward_;  // how far a step in the path's space goes to the right and up in seen space
  std::optional<SeenRect> box_;
};

/// Takes the pieces as convex polygons and cuts each at a window.
class CutPieces {
 public:
  CutPieces(ToSeen const& matrix, double radius, SeenRect const& window) : matrix_(matrix), radius_(radius), window_(window) {}
  std::optional<SeenRect> const& box() const { return box_; }

  void band(Vec p, Vec q, Vec n) { cut(std::array{p + n, q + n, q - n, p - n}); }
  void curve(Vec, Vec, Vec, Vec, Vec, Vec) {}  // curves come as chords
  void sector(Vec p, Vec n0, Vec n1) { fan(p, std::atan2(n0.y, n0.x), std::atan2(cross(n0, n1), dot(n0, n1))); }
  void half_disc(Vec p, Vec d) { fan(p, std::atan2(d.y, d.x) - std::acos(-1.0) / 2, std::acos(-1.0)); }
  void polygon(std::array<Vec, 4> const& points) { cut(points); }

 private:
  void fan(Vec p, double from, double sweep) {
    constexpr int kSteps = 24;
    std::array<Vec, kSteps + 2> points;
    points[0] = p;
    for (int i = 0; i <= kSteps; ++i) {
      double const t = from + sweep * i / kSteps;
      points[static_cast<std::size_t>(i) + 1] = p + Vec{std::cos(t), std::sin(t)} * radius_;
    }
    cut(points);
  }
  template <std::size_t N>
  void cut(std::array<Vec, N> const& points) {
    auto& ring = piece_.rings[0];
    ring.clear();
    for (auto p : points) ring.push_back(matrix_.apply(p));
    if (auto const part = piece_.extents_within(window_)) box_ = box_ ? united(*box_, *part) : *part;
  }
  ToSeen const& matrix_;
  double radius_;
  SeenRect window_;
  Polygon piece_{{{}}, false};
  std::optional<SeenRect> box_;
};

/// Feeds an outline to a walker; with `chords` its curves as straight lines, in steps that are fine in seen space.
template <class Walker>
void walk(Outline const& outline, ToSeen const& matrix, Walker& walker, bool chords) {
  std::size_t i = 0;
  Vec current{}, start{};
  auto next = [&] { return outline.points()[i++]; };
  for (auto verb : outline.verbs()) {
    switch (verb) {
      case Outline::Verb::move: walker.move(current = start = next()); break;
      case Outline::Verb::line: walker.line(current = next()); break;
      case Outline::Verb::close:
        walker.close();
        walker.move(current = start);
        break;
      case Outline::Verb::curve: {
        Vec const p0 = current, p1 = next(), p2 = next(), p3 = next();
        current = p3;
        if constexpr (requires { walker.curve(p1, p2, p3); }) {
          if (!chords) {
            walker.curve(p1, p2, p3);
            break;
          }
        }
        int const n = std::max(8, cubic_chords(matrix.apply(p0), matrix.apply(p1), matrix.apply(p2), matrix.apply(p3)));
        for (int k = 1; k <= n; ++k) {
          double const t = static_cast<double>(k) / n;
          walker.line({cubic_at(p0.x, p1.x, p2.x, p3.x, t), cubic_at(p0.y, p1.y, p2.y, p3.y, t)});
        }
        break;
      }
    }
  }
  walker.finish();
}

template <class Sink>
std::optional<SeenRect> extents_by(Sink sink, Outline const& outline, StrokeStyle const& style, ToSeen const& matrix, bool chords) {
  double total = 0;
  for (float d : style.dashes) total += std::fabs(d);
  if (total > 0 && std::isfinite(total)) {
    Sink dashed = sink;
    Dasher<Sink> dasher(dashed, style);
    walk(outline, matrix, dasher, true);
    if (!dasher.gave_up()) return dashed.box();
  }
  StrokeWalker<Sink> walker(sink, style);
  walk(outline, matrix, walker, chords);
  return sink.box();
}

}  // namespace

StrokeStyle stroke_style(fz_stroke_state const& state) {
  StrokeStyle style;
  style.radius = std::fabs(state.linewidth) / 2.0;
  style.join = state.linejoin == FZ_LINEJOIN_ROUND ? StrokeJoin::round : state.linejoin == FZ_LINEJOIN_BEVEL ? StrokeJoin::bevel : StrokeJoin::miter;
  style.miter_limit = state.miterlimit;
  style.cap = state.start_cap == FZ_LINECAP_ROUND      ? StrokeCap::round
              : state.start_cap == FZ_LINECAP_SQUARE   ? StrokeCap::square
              : state.start_cap == FZ_LINECAP_TRIANGLE ? StrokeCap::triangle
                                                       : StrokeCap::butt;
  style.dashes = {state.dash_list, static_cast<std::size_t>(std::max(state.dash_len, 0))};
  style.dash_phase = state.dash_phase;
  return style;
}

std::optional<SeenRect> stroke_bounds(Outline const& outline, StrokeStyle const& style, ToSeen const& matrix) {
  if (!outline.control_box()) return std::nullopt;
  double outset = style.radius * 1.4143;                                    // a square cap's corner
  bool const joined = outline.verbs().size() > 2 || !style.dashes.empty();  // a dashed curve is cut into chords
  if (joined && style.join == StrokeJoin::miter) outset = std::max(outset, style.radius * std::max(1.0, style.miter_limit));
  return matrix.apply(outline.control_box()->grown(outset));
}

std::optional<SeenRect> stroke_extents(Outline const& outline, StrokeStyle const& style, ToSeen const& matrix,
                                       std::optional<SeenRect> const& window) {
  if (window) return extents_by(CutPieces(matrix, style.radius, *window), outline, style, matrix, true);
  return extents_by(WholePieces(matrix, style.radius), outline, style, matrix, false);
}

}  // namespace layright
