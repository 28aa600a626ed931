#include "marks/exif_orientation.h"

#include "convert/bytes.h"
#include "convert/exif.h"

namespace layright {

int exif_orientation(std::span<std::uint8_t const> jpeg) {
  // Marker segments up to the picture itself (ITU-T T.81, annex B); what lies beyond the end reads as 0.
  constexpr std::uint8_t kMarker = 0xFF, kExif = 0xE1, kScan = 0xDA;
  Bytes const in(std::as_bytes(jpeg));
  if (in.u16(0) != 0xFFD8) return 1;
  for (std::size_t at = 2; in.u8(at) == kMarker && in.u8(at + 1) != kScan;) {
    if (in.u8(at + 1) == kMarker) {  // a fill byte
      ++at;
      continue;
    }
    std::size_t const length = in.u16(at + 2);
    if (length < 2 || !in.inside(at + 2, length)) return 1;
    auto const segment = in.part(at + 4, length - 2);
    if (in.u8(at + 1) == kExif && text_of(segment).starts_with(std::string_view("Exif\0\0", 6))) return read_exif(segment).orientation;
    at += 2 + length;
  }
  return 1;
}

}  // namespace layright
