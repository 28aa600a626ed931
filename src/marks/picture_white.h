// What counts as white in a picture: its own border tells how noisy it is, and whether it lies on a tint.
#pragma once
#include "marks/image_ink.h"

namespace layright {

/// What the outermost pixels of a picture are like, each fed in its place along the border.
class PictureBorder {
 public:
  /// `tint`, of 255, that the pixel leaves on paper.
  void add(float tint);
  /// Whether what is nearly white is white: a scan of paper, or one compressed with loss. Not so where the border is flat, or lies on a tint
  /// that its noise does not explain.
  bool white_is_noisy(bool lossy) const;
  /// The tint, 0 to 1, that the picture lies on; 0 where its border is white, dark, or no flat tint.
  float ground(bool lossy) const;

 private:
  long all_ = 0, light_ = 0, tinted_ = 0, not_white_ = 0, steps_ = 0;
  double sum_ = 0, tinted_sum_ = 0, tinted_squares_ = 0, steps_sum_ = 0;
  float last_ = -1;
};

/// Makes `ink` what the border says; what looked so far kept both.
void settle_white(ImageInk& ink, PictureBorder const& border, bool lossy);

}  // namespace layright
