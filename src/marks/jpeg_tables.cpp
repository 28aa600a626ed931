#include "marks/jpeg_tables.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "convert/jpeg_reader.h"

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

int jpeg_quality(std::span<unsigned char const> bytes) {
  JpegReader reader(std::as_bytes(bytes));
  auto& info = reader.info;
  if (!reader.run([&] { jpeg_read_header(&info, TRUE); })) return 0;
  int const number = info.comp_info[0].quant_tbl_no;
  auto const* const table = number >= 0 && number < NUM_QUANT_TBLS ? info.quant_tbl_ptrs[number] : nullptr;
  return table ? quality_of(std::accumulate(table->quantval, table->quantval + DCTSIZE2, 0.0)) : 0;
}

}  // namespace layright
