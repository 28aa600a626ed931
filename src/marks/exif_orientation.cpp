#include "marks/exif_orientation.h"

#include "convert/bytes.h"
#include "convert/exif.h"
#include "convert/jpeg_reader.h"

namespace layright {

int exif_orientation(std::span<std::uint8_t const> jpeg) {
  constexpr int kExif = JPEG_APP0 + 1;
  bool cut = false;
  JpegReader reader(std::as_bytes(jpeg), [&](int code) { cut = cut || code == JWRN_JPEG_EOF; });
  // What stands before the picture itself counts, whether or not that can be read.
  reader.run([&] {
    jpeg_save_markers(&reader.info, kExif, 0xFFFF);
    jpeg_read_header(&reader.info, TRUE);
  });
  for (auto const* marker = cut ? nullptr : reader.info.marker_list; marker; marker = marker->next) {
    std::span const segment(reinterpret_cast<std::byte const*>(marker->data), marker->data_length);
    if (text_of(segment).starts_with(std::string_view("Exif\0\0", 6))) return read_exif(segment).orientation;
  }
  return 1;
}

}  // namespace layright
