#include "plate/shown_plate.h"

#include <cstddef>

#include "plate/white_pixels.h"

namespace layright {

std::vector<std::uint8_t> white_beneath(PagePicture const& picture, PlateOptions const& options, double scale) {
  std::vector<std::uint8_t> white;
  if (options.from == PlateFrom::off || picture.width < 1 || picture.alpha.empty()) return white;
  auto const width = static_cast<std::size_t>(picture.width);
  InkBand band(picture.width, picture.height);
  if (options.fade == SoftEdges::grey) band.alpha = picture.alpha;
  ColorChoice const choice(options);
  std::vector<unsigned char> row(width * 4);  // colors come times alpha
  for (int y = 0; y < picture.height; ++y) {
    auto const first = static_cast<std::size_t>(y) * width;
    for (std::size_t x = 0; x < width; ++x) {
      unsigned const alpha = row[4 * x + 3] = picture.alpha[first + x];
      for (std::size_t i = 0; i < 3; ++i) row[4 * x + i] = static_cast<unsigned char>((picture.rgb[3 * (first + x) + i] * alpha + 127) / 255);
    }
    choice.judge(row.data(), picture.width, band.ink.row(y), band.chosen.row(y));
  }
  auto made = white_of(band, options, options.pull_in.in_points() * picture.dpi / 72 / scale);
  if (!made.amount.empty()) return std::move(made.amount);
  white.resize(width * static_cast<std::size_t>(picture.height));
  for (int y = 0; y < picture.height; ++y)
    for (std::size_t x = 0; x < width; ++x)
      if (made.white.row(y)[x / 64] >> (x % 64) & 1) white[static_cast<std::size_t>(y) * width + x] = 255;
  return white;
}

}  // namespace layright
