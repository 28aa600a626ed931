// The cuts that part pieces which lie so that each cut can run through all that is left.
#pragma once
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

struct ThroughCut {
  bool across = true;       // from left to right; else upward
  double at = 0;            // in the middle between what it parts
  double from = 0, to = 0;  // along it
};

/// In the order in which they are made, the first through all of `sheet`; empty where there is none that runs through.
std::vector<ThroughCut> straight_cuts(std::vector<Rect<SheetSpace>> const& boxes, Rect<SheetSpace> const& sheet);

}  // namespace layright
