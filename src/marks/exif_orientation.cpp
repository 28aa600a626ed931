#include "marks/exif_orientation.h"

#include <algorithm>
#include <string_view>

namespace layright {
namespace {

using Bytes = std::span<std::uint8_t const>;

/// Big endian where `big`; 0 beyond the end, which no tag asked for here has.
std::uint32_t number_at(Bytes bytes, std::size_t at, std::size_t size, bool big) {
  std::uint32_t value = 0;
  if (at > bytes.size() || size > bytes.size() - at) return 0;
  for (std::size_t i = 0; i < size; ++i) value = value << 8 | bytes[at + (big ? i : size - 1 - i)];
  return value;
}

bool starts_with(Bytes bytes, std::string_view word) {
  return bytes.size() >= word.size() && std::equal(word.begin(), word.end(), bytes.begin(), [](char c, std::uint8_t b) { return static_cast<std::uint8_t>(c) == b; });
}

/// The tag in TIFF data (TIFF 6.0, section 2: header, first directory, entries of 12 bytes); 1 without it.
int orientation_in(Bytes tiff) {
  constexpr std::uint32_t kOrientation = 274, kShort = 3;
  bool const big = starts_with(tiff, "MM");
  if (!big && !starts_with(tiff, "II")) return 1;
  std::size_t const directory = number_at(tiff, 4, 4, big);
  std::size_t const entries = number_at(tiff, directory, 2, big);
  for (std::size_t i = 0; i < entries; ++i) {
    std::size_t const at = directory + 2 + 12 * i;
    if (number_at(tiff, at, 2, big) != kOrientation || number_at(tiff, at + 2, 2, big) != kShort) continue;
    auto const value = number_at(tiff, at + 8, 2, big);
    return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
  }
  return 1;
}

}  // namespace

int exif_orientation(Bytes jpeg) {
  // Marker segments up to the picture itself (ITU-T T.81, annex B).
  constexpr std::uint8_t kMarker = 0xFF, kExif = 0xE1, kScan = 0xDA;
  if (number_at(jpeg, 0, 2, true) != 0xFFD8) return 1;
  std::size_t at = 2;
  while (at + 4 <= jpeg.size() && jpeg[at] == kMarker && jpeg[at + 1] != kScan) {
    if (jpeg[at + 1] == kMarker) {  // a fill byte
      ++at;
      continue;
    }
    std::size_t const length = number_at(jpeg, at + 2, 2, true);
    if (length < 2 || length > jpeg.size() - at - 2) return 1;
    Bytes const segment = jpeg.subspan(at + 4, length - 2);
    if (jpeg[at + 1] == kExif && starts_with(segment, std::string_view("Exif\0\0", 6))) return orientation_in(segment.subspan(6));
    at += 2 + length;
  }
  return 1;
}

}  // namespace layright
