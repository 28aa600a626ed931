// What is told of a page before its marks.
#pragma once
#include <array>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/space.h"

namespace layright {

struct PageFrame {
  int number = 1;
  bool laid_before = false;  // layright's own page, whose record holds: it is laid again without a further wrapper
  Rect<PageSpace> crop;
  Matrix<PageSpace, SeenSpace> to_seen;
  bool blends = false;      // its content is a group of its own
  bool has_group = false;   // the file says so
  bool knocks_out = false;  // that group; the library does not draw it so on a page, and does in a form
  /// Where annotations lie that have no appearance in the file: each program draws its own there.
  std::vector<Rect<SeenSpace>> free;
  /// For each annotation, then for each widget, in the library's order: whether it brings an appearance of its own.
  std::array<std::vector<bool>, 2> own;
};

}  // namespace layright
