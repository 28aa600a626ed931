// What letters look like: means over several fonts, made by tests/reading/shapes. Data; do not edit by hand.
#pragma once
#include <string_view>

namespace layright {

/// The extents of a letter over a square of 12 x 12 cells, lowest row first, each cell's ink as a hexadecimal digit.
struct LetterShape {
  char32_t letter;
  std::string_view cells;
};
inline constexpr int kLetterShapeCount = 89;
extern LetterShape const kLetterShapes[kLetterShapeCount];

/// Which row of the table is the letter's, or -1. Letters of other scripts that look like a Latin one have no row of their own.
int letter_shape_index(int unicode);

}  // namespace layright
