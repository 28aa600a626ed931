// A coarse map of what a cut through the art would meet.
#pragma once
#include <cstdint>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/space.h"
#include "raster/page_picture.h"
#include "tile/line_cuts.h"

namespace layright {

/// Rows from the top, one byte a pixel each: how much ink lies there, and by how much the next pixel to the right and the next below differ
/// from it. 255: all there can be.
struct CutMap {
  int width = 0, height = 0;
  std::vector<std::uint8_t> ink, right, below;
};

inline constexpr double kCutMapDpi = 36;        // of the printed art
inline constexpr double kFinerCutMapDpi = 144;  // where little of it can be cut at all

/// The map of `art`, `width` x `height` pixels, from a clear picture of the page (draw_page). `to_drawn` takes the art to what was drawn.
/// Paper-white is ink only where `white_prints`.
CutMap cut_map(PagePicture const& picture, Rect<SeenSpace> const& art, Matrix<SeenSpace, SeenSpace> const& to_drawn, int width, int height,
               bool white_prints);

/// What a cut from top to bottom costs left of each column, and right of the last: the ink that it meets, and twice each change of what it
/// meets along its way. Of the rows from `top` on, `bottom` not included. A pixel of full ink counts 1.
CutCosts costs_across(CutMap const& map, int top, int bottom);
/// The same of a cut from left to right, above each row and below the last; of the columns from `left` to before `right`.
CutCosts costs_down(CutMap const& map, int left, int right);

/// Where two pieces overlap, all of the band between their ends is printed twice: its mean, `band` steps wide.
CutCosts over_band(CutCosts const& costs, double band);

}  // namespace layright
