#include "marks/polygon.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

/// The part of the segment inside the window as [from, to] of its length (Liang and Barsky, 1984); false when it stays outside.
bool clip_segment(SeenPoint p, SeenPoint q, SeenRect const& w, double& from, double& to) {
  from = 0;
  to = 1;
  double const delta[2] = {q.x - p.x, q.y - p.y}, start[2] = {p.x, p.y};
  double const low[2] = {w.x0, w.y0}, high[2] = {w.x1, w.y1};
  for (int axis = 0; axis < 2; ++axis) {
    if (delta[axis] == 0) {
      if (start[axis] < low[axis] || start[axis] > high[axis]) return false;
      continue;
    }
    double a = (low[axis] - start[axis]) / delta[axis], b = (high[axis] - start[axis]) / delta[axis];
    if (a > b) std::swap(a, b);
    from = std::max(from, a);
    to = std::min(to, b);
    if (from > to) return false;
  }
  return true;
}

SeenPoint between(SeenPoint p, SeenPoint q, double t) { return {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)}; }

template <class F>
void each_edge(Polygon const& polygon, F&& f) {
  for (auto const& ring : polygon.rings)
    for (std::size_t i = 0; i < ring.size(); ++i) f(ring[i], ring[i + 1 == ring.size() ? 0 : i + 1]);
}

}  // namespace

std::size_t Polygon::size() const {
  std::size_t n = 0;
  for (auto const& ring : rings) n += ring.size();
  return n;
}

bool Polygon::contains(SeenPoint p) const {
  int winding = 0, crossings = 0;
  each_edge(*this, [&](SeenPoint a, SeenPoint b) {
    if ((a.y <= p.y) == (b.y <= p.y)) return;
    double const x = a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
    if (x <= p.x) return;
    winding += b.y > a.y ? 1 : -1;
    ++crossings;
  });
  return even_odd ? crossings % 2 != 0 : winding != 0;
}

// The extremes of the common part are among its corners: those of the region inside the window, crossings of the region's edges with
// the window's, and corners of the window inside the region.
std::optional<SeenRect> Polygon::extents_within(SeenRect const& window) const {
  std::optional<SeenRect> found;
  auto add = [&](SeenPoint p) {
    if (!found) found = SeenRect{p.x, p.y, p.x, p.y};
    else found = SeenRect{std::min(found->x0, p.x), std::min(found->y0, p.y), std::max(found->x1, p.x), std::max(found->y1, p.y)};
  };
  auto inside = [&](SeenPoint p) { return SeenPoint{std::clamp(p.x, window.x0, window.x1), std::clamp(p.y, window.y0, window.y1)}; };
  each_edge(*this, [&](SeenPoint a, SeenPoint b) {
    double from, to;
    if (!clip_segment(a, b, window, from, to)) return;
    add(inside(between(a, b, from)));
    add(inside(between(a, b, to)));
  });
  SeenPoint const corners[4] = {{window.x0, window.y0}, {window.x1, window.y0}, {window.x1, window.y1}, {window.x0, window.y1}};
  for (auto const& corner : corners)
    if (!(found && found->contains(SeenRect{corner.x, corner.y, corner.x, corner.y})) && contains(corner)) add(corner);
  return found;
}

bool Polygon::covers(SeenRect const& box) const {
  constexpr double kTouch = 1e-4;  // an edge along the box's own edge does not cut it
  SeenRect const core = box.grown(-kTouch);
  bool cut = false;
  each_edge(*this, [&](SeenPoint a, SeenPoint b) {
    double from, to;
    if (!cut && clip_segment(a, b, core, from, to)) cut = true;
  });
  return !cut && contains(box.centre());
}

}  // namespace layright
