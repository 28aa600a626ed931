// Which way the letters and digits of a line lie, by their shapes alone: a witness beside the engine that reads them.
#pragma once
#include <array>

#include "raster/blobs.h"

namespace layright {

/// What the shapes of a straightened line say.
struct ShapesSaid {
  int glyphs = 0;                // that stand alone and are as high as letters
  std::array<double, 4> ways{};  // for each Way the logarithm of its likelihood, summed over the glyphs
  int kinds = 0;                 // of them, shapes that come again counted once
  bool even = false;             // all of one height and on one line, as capitals and digits stand
  double turned = 0;             // of even ones: how surely, a logarithm, two kinds stand upright and two others on their heads; 0: they do not
  /// How much likelier the two right ways are than the two wrong ones: a logarithm, positive for right.
  double right() const;
  int way() const;  // the likeliest, as a number of Way
};

/// Glyphs of a strip that `straighten` cut, dark on white. Letters that hang together are passed over. A strip that is turned or
/// reversed gets the same values with the ways exchanged.
ShapesSaid shapes_of(GreyPicture const& strip);

}  // namespace layright
