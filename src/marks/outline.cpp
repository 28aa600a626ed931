#include "marks/outline.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

constexpr double kNoArea = 1e-3;  // points: a region thinner than this leaves nothing

Outline& outline_of(void* arg) { return *static_cast<Outline*>(arg); }

/// Extents of one subpath, and whether it has any area: whether its points leave the line through the first two different ones.
struct SubpathExtents {
  SeenRect box{};
  SeenPoint first{}, along{};
  bool started = false, directed = false, has_area = false;

  void reset() { *this = {}; }
  void widen(SeenPoint p) {
    if (!started) {
      box = {p.x, p.y, p.x, p.y};
      first = p;
      started = true;
      return;
    }
    box = {std::min(box.x0, p.x), std::min(box.y0, p.y), std::max(box.x1, p.x), std::max(box.y1, p.y)};
  }
  void see(SeenPoint p) {
    if (has_area) return;
    double const dx = p.x - first.x, dy = p.y - first.y;
    if (!directed) {
      double const length = std::hypot(dx, dy);
      if (length < kNoArea) return;
      along = {dx / length, dy / length};
      directed = true;
      return;
    }
    has_area = std::fabs(along.x * dy - along.y * dx) > kNoArea;
  }
};

}  // namespace

void Outline::clear() {
  verbs_.clear();
  points_.clear();
  control_box_.reset();
}
void Outline::add(double x, double y) {
  points_.push_back({x, y});
  if (!control_box_) {
    control_box_ = Rect<MarkSpace>{x, y, x, y};
    return;
  }
  auto& b = *control_box_;
  b = {std::min(b.x0, x), std::min(b.y0, y), std::max(b.x1, x), std::max(b.y1, y)};
}
void Outline::move(double x, double y) {
  verbs_.push_back(Verb::move);
  add(x, y);
}
void Outline::line(double x, double y) {
  verbs_.push_back(Verb::line);
  add(x, y);
}
void Outline::curve(double x1, double y1, double x2, double y2, double x3, double y3) {
  verbs_.push_back(Verb::curve);
  add(x1, y1);
  add(x2, y2);
  add(x3, y3);
}
void Outline::close() { verbs_.push_back(Verb::close); }

std::optional<Rect<MarkSpace>> Outline::upright_rectangle() const {
  auto const n = points_.size();
  if (n < 4 || n > 5 || verbs_.size() > 6) return std::nullopt;
  for (std::size_t i = 0; i < verbs_.size(); ++i) {
    Verb const wanted = i == 0 ? Verb::move : i < n ? Verb::line : Verb::close;
    if (verbs_[i] != wanted) return std::nullopt;
  }
  if (n == 5 && points_[4] != points_[0]) return std::nullopt;
  auto const &p = points_[0], &q = points_[1], &r = points_[2], &s = points_[3];
  bool const across = p.y == q.y && q.x == r.x && r.y == s.y && s.x == p.x;
  bool const up = p.x == q.x && q.y == r.y && r.x == s.x && s.y == p.y;
  if (!across && !up) return std::nullopt;
  return Rect<MarkSpace>::from_corners(p.x, p.y, r.x, r.y);
}

void read_outline(fz_context* ctx, fz_path const* path, Outline& outline) {
  outline.clear();
  fz_path_walker walker{};
  walker.moveto = [](fz_context*, void* o, float x, float y) { outline_of(o).move(x, y); };
  walker.lineto = [](fz_context*, void* o, float x, float y) { outline_of(o).line(x, y); };
  walker.curveto = [](fz_context*, void* o, float a, float b, float c, float d, float e, float f) { outline_of(o).curve(a, b, c, d, e, f); };
  walker.closepath = [](fz_context*, void* o) { outline_of(o).close(); };
  fz_walk_path(ctx, path, &walker, &outline);
}

double cubic_at(double p0, double p1, double p2, double p3, double t) {
  double const s = 1 - t;
  return s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3;
}

int cubic_extrema(double p0, double p1, double p2, double p3, double at[2]) {
  double const a = p3 - 3 * p2 + 3 * p1 - p0, b = 2 * (p2 - 2 * p1 + p0), c = p1 - p0;
  int n = 0;
  auto keep = [&](double t) {
    if (t > 0 && t < 1) at[n++] = t;
  };
  if (std::fabs(a) < 1e-12 * (std::fabs(b) + std::fabs(c))) {
    if (b != 0) keep(-c / b);
    return n;
  }
  double const disc = b * b - 4 * a * c;
  if (disc < 0) return 0;
  double const q = -0.5 * (b + std::copysign(std::sqrt(disc), b));  // the stable form of the two roots
  keep(q / a);
  if (q != 0) keep(c / q);
  return n;
}

int cubic_chords(SeenPoint p0, SeenPoint p1, SeenPoint p2, SeenPoint p3) {
  // The error of n chords is at most |second difference| * 6 / 8 / n^2 (the usual bound by the second derivative).
  double const dx = std::max(std::fabs(p0.x - 2 * p1.x + p2.x), std::fabs(p1.x - 2 * p2.x + p3.x));
  double const dy = std::max(std::fabs(p0.y - 2 * p1.y + p2.y), std::fabs(p1.y - 2 * p2.y + p3.y));
  double const n = std::ceil(std::sqrt(0.75 * std::hypot(dx, dy) / kFlatness));
  return std::isfinite(n) ? static_cast<int>(std::clamp(n, 1.0, 500.0)) : 1;
}

std::optional<SeenRect> fill_extents(Outline const& outline, ToSeen const& matrix, FlatParts flat) {
  std::optional<SeenRect> all;
  SubpathExtents sub;
  SeenPoint current{}, start{};
  auto finish = [&] {
    if (sub.started && (sub.has_area || (flat == FlatParts::hairline && sub.directed))) all = all ? united(*all, sub.box) : sub.box;
    sub.reset();
  };
  auto begin = [&] {
    if (!sub.started) sub.widen(current);
  };
  std::size_t i = 0;
  auto next = [&] { return matrix.apply(outline.points()[i++]); };
  for (auto verb : outline.verbs()) {
    switch (verb) {
      case Outline::Verb::move:
        finish();
        current = start = next();
        break;
      case Outline::Verb::line:
        begin();
        current = next();
        sub.widen(current);
        sub.see(current);
        break;
      case Outline::Verb::curve: {
        begin();
        SeenPoint const p0 = current, p1 = next(), p2 = next(), p3 = next();
        for (auto p : {p1, p2, p3}) sub.see(p);
        double at[2];
        for (int k = cubic_extrema(p0.x, p1.x, p2.x, p3.x, at); k-- > 0;)
          sub.widen({cubic_at(p0.x, p1.x, p2.x, p3.x, at[k]), cubic_at(p0.y, p1.y, p2.y, p3.y, at[k])});
        for (int k = cubic_extrema(p0.y, p1.y, p2.y, p3.y, at); k-- > 0;)
          sub.widen({cubic_at(p0.x, p1.x, p2.x, p3.x, at[k]), cubic_at(p0.y, p1.y, p2.y, p3.y, at[k])});
        sub.widen(p3);
        current = p3;
        break;
      }
      case Outline::Verb::close:
        finish();
        current = start;
        break;
    }
  }
  finish();
  return all;
}

Polygon fill_polygon(Outline const& outline, bool even_odd, ToSeen const& matrix, FlatParts flat) {
  Polygon polygon;
  polygon.even_odd = even_odd;
  SeenPoint current{}, start{};
  bool fresh = true;
  std::size_t i = 0;
  auto next = [&] { return matrix.apply(outline.points()[i++]); };
  auto ring = [&]() -> std::vector<SeenPoint>& {
    if (fresh) polygon.rings.push_back({current});
    fresh = false;
    return polygon.rings.back();
  };
  for (auto verb : outline.verbs()) {
    switch (verb) {
      case Outline::Verb::move:
        current = start = next();
        fresh = true;
        break;
      case Outline::Verb::line: {
        auto& r = ring();
        r.push_back(current = next());
        break;
      }
      case Outline::Verb::curve: {
        auto& r = ring();
        SeenPoint const p0 = current, p1 = next(), p2 = next(), p3 = next();
        int const n = cubic_chords(p0, p1, p2, p3);
        for (int k = 1; k <= n; ++k) {
          double const t = static_cast<double>(k) / n;
          r.push_back({cubic_at(p0.x, p1.x, p2.x, p3.x, t), cubic_at(p0.y, p1.y, p2.y, p3.y, t)});
        }
        current = p3;
        break;
      }
      case Outline::Verb::close:
        current = start;
        fresh = true;
        break;
    }
  }
  std::erase_if(polygon.rings, [&](auto const& r) { return r.size() < (flat == FlatParts::hairline ? 2U : 3U); });
  return polygon;
}

}  // namespace layright
