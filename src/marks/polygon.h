// A region bounded by straight rings, in seen space.
#pragma once
#include <optional>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

struct Polygon {
  std::vector<std::vector<Point<SeenSpace>>> rings;  // each closed from its last point to its first
  bool even_odd = false;

  std::size_t size() const;  // points
  /// Exact extents of what lies both in the region and in `window`; nothing when they are apart.
  std::optional<Rect<SeenSpace>> extents_within(Rect<SeenSpace> const& window) const;
  /// Whether all of `box` lies in the region.
  bool covers(Rect<SeenSpace> const& box) const;
  bool contains(Point<SeenSpace> p) const;
};

}  // namespace layright
