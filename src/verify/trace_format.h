// How a tape lies in its file. Only one run of the program on one machine reads what it wrote, so values lie there as they are.
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "verify/mark_trace.h"

namespace layright {

struct TracePage {
  int number = 0;
  bool laid_before = false, blends = false, has_group = false, knocks_out = false;
  Rect<PageSpace> crop;
  Matrix<PageSpace, SeenSpace> to_seen;
  std::size_t free = 0;  // rectangles that follow
};

inline constexpr unsigned kPlaced = 0x80;  // a matrix follows: it is not the last entry's
inline constexpr unsigned char kPageEnd = 0x7F;

inline bool has_place(MarkEntry::Kind kind) {
  return kind == MarkEntry::Kind::mark || kind == MarkEntry::Kind::clip || kind == MarkEntry::Kind::tile;
}

/// Where an annotation's form lies, by its own clip, under the matrices that it came with.
template <class Space>
std::optional<Rect<Space>> note_extents(std::vector<MarkEntry> const& note) {
  struct DrawnSpace {};
  for (auto const& e : note) {
    if (e.kind != MarkEntry::Kind::clip) continue;
    auto const& m = e.matrix;
    return Matrix<DrawnSpace, Space>{m[0], m[1], m[2], m[3], m[4], m[5]}.apply(Rect<DrawnSpace>{e.bounds[0], e.bounds[1], e.bounds[2], e.bounds[3]});
  }
  return std::nullopt;
}

inline constexpr double kNoteSlack = 0.5;  // points by which a program's own appearance may pass the annotation's rectangle

/// How many closings an entry makes necessary, or that it is one.
inline int opens(MarkEntry::Kind kind) {
  switch (kind) {
    case MarkEntry::Kind::mask: return 2;
    case MarkEntry::Kind::close: return -1;
    case MarkEntry::Kind::mark:
    case MarkEntry::Kind::section: return 0;
    default: return 1;
  }
}

}  // namespace layright
