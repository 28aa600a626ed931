#include "marks/jpeg_whole.h"

#include <algorithm>
#include <csetjmp>
#include <cstddef>
#include <cstdio>
// This wants <cstdio> first, and its errors want it.
#include <jpeglib.h>

#include <jerror.h>

namespace layright {
namespace {

struct Escape {
  jpeg_error_mgr manager{};
  std::jmp_buf out{};
  bool made_up = false;
};

[[noreturn]] void leave(j_common_ptr info) { std::longjmp(static_cast<Escape*>(info->client_data)->out, 1); }
void hear(j_common_ptr info, int level) {
  auto& escape = *static_cast<Escape*>(info->client_data);
  if (level < 0 && makes_something_up(info->err->msg_code)) escape.made_up = true;
}

/// With its mark (ITU-T T.81, B.1.1.3), behind which writers leave a few bytes.
bool ends_as_it_must(std::span<unsigned char const> bytes) {
  while (!bytes.empty() && (bytes.back() == 0 || bytes.back() == '\n' || bytes.back() == '\r' || bytes.back() == ' '))
    bytes = bytes.first(bytes.size() - 1);
  return bytes.size() >= 2 && bytes[bytes.size() - 2] == 0xFF && bytes.back() == 0xD9;
}

// Nothing in here may have a destructor: an error jumps over it.
void decode(jpeg_decompress_struct& info, Escape& escape, std::span<unsigned char const> bytes) {
  if (setjmp(escape.out) != 0) return;
  jpeg_mem_src(&info, bytes.data(), bytes.size());
  jpeg_read_header(&info, TRUE);
  info.scale_num = 1;
  info.scale_denom = 8;
  info.out_color_space = info.jpeg_color_space;
  jpeg_start_decompress(&info);
  auto* const row = (*info.mem->alloc_sarray)(reinterpret_cast<j_common_ptr>(&info), JPOOL_IMAGE,
                                              info.output_width * static_cast<JDIMENSION>(info.output_components), 1);
  while (info.output_scanline < info.output_height) jpeg_read_scanlines(&info, row, 1);
  // Cut between two scans of a progressive one (ITU-T T.81, G.1): bits of its coefficients have not come. 0: all are known.
  for (int component = 0; info.coef_bits && component < info.num_components; ++component)
    if (std::any_of(info.coef_bits[component], info.coef_bits[component] + DCTSIZE2, [](int bits) { return bits != 0; })) escape.made_up = true;
}

}  // namespace

bool makes_something_up(int warning) {
  return warning == JWRN_HIT_MARKER || warning == JWRN_HUFF_BAD_CODE || warning == JWRN_ARITH_BAD_CODE || warning == JWRN_MUST_RESYNC;
}

bool jpeg_is_cut(std::span<unsigned char const> bytes) {
  if (ends_as_it_must(bytes)) return false;
  Escape escape;
  jpeg_decompress_struct info{};
  info.err = jpeg_std_error(&escape.manager);
  info.client_data = &escape;
  escape.manager.error_exit = leave;
  escape.manager.emit_message = hear;
  jpeg_create_decompress(&info);
  decode(info, escape, bytes);
  jpeg_destroy_decompress(&info);
  return escape.made_up;
}

}  // namespace layright
