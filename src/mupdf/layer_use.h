// What lies on a layer of which readers of the file may think otherwise than the standard (ISO 32000-1, 8.11).
#pragma once
#include <string>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

struct LayerUse {
  std::string name;    // empty: a combination of layers
  bool prints = true;  // by the standard
  Rect<SeenSpace> where;
};

}  // namespace layright
