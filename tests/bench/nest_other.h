// libnest2d, behind an interface without its types: it needs C++17, for it compares values in a way that C++20 finds ambiguous.
#pragma once
#include <cstddef>
#include <vector>

/// In points.
struct NestCorner {
  double x, y;
};
using NestOutline = std::vector<NestCorner>;  // counterclockwise

struct NestSheet {
  double width, height, gap;
};

/// So many sheets; `seconds`: of the processor, added to.
std::size_t sheets_by_libnest2d(std::vector<NestOutline> const& order, NestSheet const& sheet, bool quarter_turns_only, double& seconds);
