#include "marks/jpeg_whole.h"

#include <algorithm>
#include <cstddef>

#include "convert/jpeg_reader.h"

namespace layright {
namespace {

/// With its mark (ITU-T T.81, B.1.1.3), behind which writers leave a few bytes.
bool ends_as_it_must(std::span<unsigned char const> bytes) {
  while (!bytes.empty() && (bytes.back() == 0 || bytes.back() == '\n' || bytes.back() == '\r' || bytes.back() == ' '))
    bytes = bytes.first(bytes.size() - 1);
  return bytes.size() >= 2 && bytes[bytes.size() - 2] == 0xFF && bytes.back() == 0xD9;
}

}  // namespace

bool makes_something_up(int warning) {
  return warning == JWRN_HIT_MARKER || warning == JWRN_HUFF_BAD_CODE || warning == JWRN_ARITH_BAD_CODE || warning == JWRN_MUST_RESYNC;
}

bool jpeg_is_cut(std::span<unsigned char const> bytes) {
  if (ends_as_it_must(bytes)) return false;
  bool made_up = false;
  JpegReader reader(std::as_bytes(bytes), [&](int code) { made_up = made_up || makes_something_up(code); });
  auto& info = reader.info;
  reader.run([&] {
    jpeg_read_header(&info, TRUE);
    info.scale_num = 1;
    info.scale_denom = 8;
    info.out_color_space = info.jpeg_color_space;
    jpeg_start_decompress(&info);
    for (auto* const row = reader.row(); info.output_scanline < info.output_height;) jpeg_read_scanlines(&info, row, 1);
    // Cut between two scans of a progressive one (ITU-T T.81, G.1): bits of its coefficients have not come. 0: all are known.
    for (int component = 0; info.coef_bits && component < info.num_components; ++component)
      if (std::any_of(info.coef_bits[component], info.coef_bits[component] + DCTSIZE2, [](int bits) { return bits != 0; })) made_up = true;
  });
  return made_up;
}

}  // namespace layright
