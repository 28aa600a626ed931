// Where something was seen: how often, and the first few places.
#pragma once
#include <cstddef>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

struct Places {
  long count = 0;
  std::vector<Rect<SeenSpace>> first;  // at most kMostArtPlaces
  void add(Rect<SeenSpace> const& where);
  void add(Places const& more);
};
inline constexpr std::size_t kMostArtPlaces = 20;

}  // namespace layright
