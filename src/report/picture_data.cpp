#include "report/picture_data.h"

#include <csetjmp>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <span>

#include <jpeglib.h>

#include "base/base64.h"

namespace layright {
namespace {

constexpr int kQuality = 70;  // of 100: letters of a small picture stay legible

struct Errors {
  jpeg_error_mgr manager;
  std::jmp_buf jump;
};

void give_up(j_common_ptr common) { std::longjmp(reinterpret_cast<Errors*>(common->err)->jump, 1); }

/// Plain pointers only, since the library's errors jump. The caller frees the bytes.
bool compress(PagePicture const* picture, unsigned char** bytes, unsigned long* size) {
  jpeg_compress_struct c;
  Errors errors;
  c.err = jpeg_std_error(&errors.manager);
  errors.manager.error_exit = give_up;
  if (setjmp(errors.jump) != 0) {
    jpeg_destroy_compress(&c);
    return false;
  }
  jpeg_create_compress(&c);
  jpeg_mem_dest(&c, bytes, size);
  c.image_width = static_cast<JDIMENSION>(picture->width);
  c.image_height = static_cast<JDIMENSION>(picture->height);
  c.input_components = 3;
  c.in_color_space = JCS_RGB;
  jpeg_set_defaults(&c);
  jpeg_set_quality(&c, kQuality, TRUE);
  jpeg_start_compress(&c, TRUE);
  while (c.next_scanline < c.image_height) {
    auto* row = const_cast<JSAMPROW>(picture->rgb.data() + static_cast<std::size_t>(c.next_scanline) * static_cast<std::size_t>(picture->width) * 3);
    jpeg_write_scanlines(&c, &row, 1);
  }
  jpeg_finish_compress(&c);
  jpeg_destroy_compress(&c);
  return true;
}

}  // namespace

std::string picture_data(PagePicture const& picture) {
  if (picture.width < 1 || picture.height < 1) return {};
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  std::string data;
  if (compress(&picture, &bytes, &size)) data = "data:image/jpeg;base64," + to_base64(std::as_bytes(std::span(bytes, size)));
  std::free(bytes);
  return data;
}

}  // namespace layright
