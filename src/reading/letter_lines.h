// Finds what could be lines of letters among blobs, level, upright, slanted or on an arc, and straightens them.
#pragma once
#include <vector>

#include "raster/blobs.h"

namespace layright {

/// Blobs in a row, as letters stand.
struct LetterLine {
  std::vector<int> blobs;              // from left to right; when `upward`, from top to bottom
  bool light = false;                  // light letters on dark ground
  bool upward = false;                 // the row runs along y
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // extents in pixels
  double letters = 0;                  // about how many: letters that hang together are counted by length
  double size = 0;                     // typical height of its letters in pixels
  double promise = 0;                  // the likelier letters, the higher
  std::vector<LetterLine> parts;       // what wide gaps part it into: pieces side by side may lie differently
};

/// Lines worth reading, the most promising first, at most `most`.
std::vector<LetterLine> find_lines(BlobMap const& map, std::size_t most);

/// The line's letters alone, dark on white, level, kStripHeight pixels high, cut from `full`, which is `by` times as large as the
/// picture that `map` was found in. Empty (width 0) where ink and ground hardly differ. Reversed and turned pictures give reversed and
/// turned strips.
GreyPicture straighten(LetterLine const& line, BlobMap const& map, GreyPicture const& full, int by);
inline constexpr int kStripHeight = 44, kLongestStrip = 460;

}  // namespace layright
