// Erodes and widens a picture in bits by a disc, exactly, row by row: a row is held only as long as the disc reaches it.
#pragma once
#include <functional>
#include <vector>

#include "plate/bit_rows.h"

namespace layright {

/// How far a disc reaches to either side in each row from its middle on, in pixels.
std::vector<int> disc_half_widths(double radius);

enum class DiscKind {
  erode,  // a pixel stays if every pixel whose middle lies within the radius of its own is set; outside of the picture none is
  widen   // a pixel is set if any pixel whose middle lies within the radius of its own is
};

class Disc {
 public:
  using Take = std::function<void(BitSpan row)>;
  /// `width` and `radius` in pixels; the radius, at least 0, need not be whole. `take` is given as many rows as are put in, in their order.
  Disc(DiscKind kind, int width, double radius, Take take);
  void row(BitSpan row);
  /// After the last row: gives the rows that are still held.
  void finish();

 private:
  BitRow& held(int row) { return held_[static_cast<std::size_t>(row) % held_.size()]; }
  void narrow(int from, int to);
  void give(BitRow& row);

  DiscKind kind_;
  int width_;
  std::vector<int> half_widths_;  // of the disc, by how far a row lies from its middle
  std::vector<BitRow> held_;      // rows that are not finished, by their number modulo the size
  std::size_t padding_;           // words
  BitRow padded_;                 // the row in hand, with what lies outside of the picture on either side
  BitRow narrowed_;               // its pixels of which so many to either side are set as well
  int next_ = 0, given_ = 0;      // rows
  Take take_;
};

/// The whole of a picture.
BitPicture through_disc(DiscKind kind, BitPicture const& picture, double radius);

}  // namespace layright
