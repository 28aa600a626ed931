// Takes rows of colour and opacity side by side apart, as PDF wants them.
#pragma once
#include <cstddef>
#include <cstring>
#include <vector>

namespace layright {

class SplitAlpha {
 public:
  /// `colours` samples of `bits` (8 or 16) and one of opacity a pixel.
  SplitAlpha(int colours, int bits, long width)
      : colour_bytes_(static_cast<std::size_t>(colours * bits / 8)),
        alpha_bytes_(static_cast<std::size_t>(bits / 8)),
        width_(static_cast<std::size_t>(width)) {}

  void row(std::byte const* samples, std::vector<std::byte>& colour, std::vector<std::byte>& alpha) const {
    colour.resize(colour_bytes_ * width_);
    alpha.resize(alpha_bytes_ * width_);
    auto *c = colour.data(), *a = alpha.data();
    for (std::size_t x = 0; x < width_; ++x) {
      for (std::size_t i = 0; i < colour_bytes_; ++i) *c++ = *samples++;
      for (std::size_t i = 0; i < alpha_bytes_; ++i) *a++ = *samples++;
    }
  }

 private:
  std::size_t colour_bytes_, alpha_bytes_, width_;
};

}  // namespace layright
