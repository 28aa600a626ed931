// What white is laid under, pixel by pixel and within one band of a page.
#pragma once
#include <cstdint>
#include <vector>

#include "plate/bit_rows.h"
#include "sheet/plate.h"

namespace layright {

/// A band of the page as it is drawn.
struct InkBand {
  InkBand(int width, int height) : ink(width, height), chosen(width, height) {}
  BitPicture ink;                   // half of full alpha and more
  BitPicture chosen;                // of it, what the options lay white under
  std::vector<std::uint8_t> alpha;  // a byte a pixel, without rows' ends; only for soft edges in grey
};

/// Judges colors as one row of a drawing has them.
class ColorChoice {
 public:
  explicit ColorChoice(PlateOptions const& options);
  /// `pixels`: `width` times red, green and blue, times alpha, and alpha. Rows must be clear.
  void judge(unsigned char const* pixels, int width, std::span<std::uint64_t> ink, std::span<std::uint64_t> chosen) const;
  /// False where all ink is chosen, whatever its color.
  bool needs_color() const;

 private:
  bool chosen(unsigned char const* pixel) const;
  PlateOptions options_;
  std::vector<float> linear_;    // of 256 values of sRGB (IEC 61966-2-1)
  float light_from_, black_to_;  // relative luminance
};

/// Bits of ink of one row: `pixels` are `width` times a gray and its alpha.
void ink_of(unsigned char const* pixels, int width, std::span<std::uint64_t> ink);

struct WhiteBand {
  BitPicture white;                  // where white is laid
  BitPicture bare;                   // ink that was to have white, and is too fine for any
  BitPicture rim;                    // white within half the pull-in of what has no ink
  std::vector<std::uint8_t> amount;  // where the band has its alpha: 255 is a full layer
};

/// `pull_in` in pixels. Right only where the band reaches at least plate_reach() rows further, or to the end of the page.
WhiteBand white_of(InkBand const& band, PlateOptions const& options, double pull_in);
int plate_reach(double pull_in);

/// What of white that the art brings itself shows at the edges of its colors, or lies within half the pull-in of them. White that is far wider than
/// a rim is meant to be seen. Both as pixels; right as white_of() is, with own_reach().
BitPicture own_rim(BitPicture const& own, BitPicture const& color, double pull_in);
int own_reach(double pull_in);

}  // namespace layright
