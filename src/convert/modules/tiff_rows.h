// The rows of one page of a TIFF as PDF wants them: whatever way they are cut into strips, tiles and planes.
#pragma once
#include <tiffio.h>

#include <cstdint>
#include <vector>

#include "convert/picture.h"

namespace layright {

class TiffRows {
 public:
  /// `alpha`: the sample that is the opacity, or -1; samples that are neither colour nor that are left out. `signed_lab`: a and b count from 0.
  TiffRows(TIFF* tiff, Picture const& picture, int alpha, bool signed_lab);
  Outcome read(PictureSink& sink);
  /// For colours that only the library can make RGB of.
  Outcome read_as_rgb(PictureSink& sink);

 private:
  /// Where a row begins: one place for all samples, or one a plane.
  using Sources = std::vector<std::byte const*>;
  Outcome by_row(PictureSink& sink);
  Outcome by_strips(PictureSink& sink);
  Outcome by_tiles(PictureSink& sink);
  void give(Sources const& sources, PictureSink& sink);
  void pick(Sources const& sources, int sample, std::vector<std::byte>& into, int at, int of) const;
  void settle(std::vector<std::byte>& row) const;
  int planes() const { return separate_ ? samples_ : 1; }
  std::size_t plane_row_bytes() const;

  TIFF* tiff_;
  Picture const& picture_;
  int alpha_;
  bool signed_lab_, separate_;
  int samples_;
  std::vector<std::byte> colour_row_, alpha_row_;
};

}  // namespace layright
