#include "marks/jpeg_tables.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace layright {
namespace {

// ITU-T T.81 (1992), Annex K, Table K.1: luminance quantization. Only the sum counts here, so its order does not.
constexpr std::array<int, 64> kLuminance{16, 11,  10,  16, 24, 40, 51, 61, 12,  12,  14,  19,  26, 58, 60, 55,  14,  13,  16,  24, 40, 57,
                                         69, 56,  14,  17, 22, 29, 51, 87, 80,  62,  18,  22,  37, 56, 68, 109, 103, 77,  24,  35, 55, 64,
                                         81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98,  112, 100, 103, 99};

/// The library's scaling: 5000 / quality below 50, else 200 - 2 * quality, in percent, each entry kept within 1 to 255.
double sum_at(int quality) {
  int const percent = quality < 50 ? 5000 / quality : 200 - 2 * quality;
  double sum = 0;
  for (int const entry : kLuminance) sum += std::clamp((entry * percent + 50) / 100, 1, 255);
  return sum;
}

int quality_of(double sum) {
  int best = 1;
  for (int q = 2; q <= 100; ++q)
    if (std::fabs(sum_at(q) - sum) < std::fabs(sum_at(best) - sum)) best = q;
  return best;
}

}  // namespace

int jpeg_quality(std::span<unsigned char const> b) {
  std::size_t at = 2;
  if (b.size() < 4 || b[0] != 0xFF || b[1] != 0xD8) return 0;
  while (at + 4 <= b.size()) {
    if (b[at] != 0xFF) return 0;
    unsigned const marker = b[at + 1];
    if (marker == 0xFF) {
      ++at;
      continue;
    }
    if (marker == 0xDA || marker == 0xD9) return 0;  // the picture itself begins
    std::size_t const length = static_cast<std::size_t>(b[at + 2]) << 8 | b[at + 3];
    if (length < 2 || at + 2 + length > b.size()) return 0;
    if (marker == 0xDB && length >= 3) {
      bool const wide = b[at + 4] >> 4;
      std::size_t const size = wide ? 128 : 64;
      if (length < 3 + size) return 0;
      double sum = 0;
      for (std::size_t i = 0; i < 64; ++i) sum += wide ? b[at + 5 + 2 * i] << 8 | b[at + 6 + 2 * i] : b[at + 5 + i];
      return quality_of(sum);
    }
    at += 2 + length;
  }
  return 0;
}

}  // namespace layright
