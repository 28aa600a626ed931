#include "marks/picture_whole.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "marks/jbig2_whole.h"
#include "marks/jpeg_whole.h"

namespace layright {
namespace {

using Bytes = std::span<unsigned char const>;

std::uint64_t number(Bytes bytes, std::size_t at, std::size_t size) {
  std::uint64_t n = 0;
  for (std::size_t i = 0; i < size && at + i < bytes.size(); ++i) n = n << 8 | bytes[at + i];
  return n;
}

/// Its codestream: that of the first box of that name, which may reach to the end of the file; or all of it.
Bytes codestream_in(Bytes bytes, bool& whole) {
  for (std::size_t at = 0; at + 8 <= bytes.size();) {
    if (number(bytes, at, 2) == 0xFF4F) return bytes.subspan(at);
    std::uint64_t length = number(bytes, at, 4);
    std::size_t head = 8;
    if (length == 1) length = number(bytes, at + 8, 8), head = 16;
    std::string_view const name(reinterpret_cast<char const*>(bytes.data()) + at + 4, 4);
    std::size_t const left = bytes.size() - at;
    if (length == 0) length = left;
    if (length < head || head > left) return {};
    if (name == "jp2c") {
      whole = length <= left;
      return bytes.subspan(at + head, std::min<std::size_t>(length, left) - head);
    }
    if (length > left) return {};
    at += length;
  }
  return {};
}

Bytes data_of(fz_context* ctx, fz_compressed_buffer const& buffer) {
  unsigned char* bytes = nullptr;
  std::size_t const size = buffer.buffer ? fz_buffer_storage(ctx, buffer.buffer, &bytes) : 0;
  return {bytes, size};
}

}  // namespace

bool jpeg2000_is_whole(Bytes bytes) {
  bool whole = true;
  auto const stream = codestream_in(bytes, whole);
  if (!whole || stream.size() < 4) return false;
  std::size_t at = 2;
  while (at + 4 <= stream.size() && number(stream, at, 2) != 0xFF90) at += 2 + number(stream, at + 2, 2);  // the main header, to the first SOT
  if (at + 12 > stream.size()) return false;
  while (at + 12 <= stream.size() && number(stream, at, 2) == 0xFF90) {
    std::uint64_t const length = number(stream, at + 6, 4);
    if (length == 0) return number(stream, stream.size() - 2, 2) == 0xFFD9;  // the last one, to the end mark
    if (length > stream.size() - at || length < 12) return false;
    at += length;
  }
  return at == stream.size() || (at + 1 < stream.size() && number(stream, at, 2) == 0xFFD9);
}

int rows_of_data(fz_context* ctx, fz_image* image) {
  fz_stream* stream = nullptr;
  std::size_t bytes = 0;
  fz_var(stream);
  fz_var(bytes);
  unsigned char block[4096];
  double const row = std::floor((static_cast<double>(image->w) * image->n * image->bpc + 7) / 8);
  fz_try(ctx) {
    fz_compressed_buffer* const buffer = fz_compressed_image_buffer(ctx, image);
    if (buffer) stream = fz_open_image_decomp_stream_from_buffer(ctx, buffer, nullptr);
    double const most = row * image->h;
    for (std::size_t n = 1; stream && n > 0 && static_cast<double>(bytes) < most; bytes += n) n = fz_read(ctx, stream, block, sizeof block);
  }
  fz_always(ctx) fz_drop_stream(ctx, stream);
  fz_catch(ctx) {}
  return stream ? static_cast<int>(std::min<double>(image->h, static_cast<double>(bytes) / row)) : image->h;
}

bool picture_is_cut(fz_context* ctx, fz_image* image) {
  auto const* const buffer = image ? fz_compressed_image_buffer(ctx, image) : nullptr;
  if (!buffer || image->w <= 0 || image->h <= 0) return false;
  switch (buffer->params.type) {
    case FZ_IMAGE_JPEG: return jpeg_is_cut(data_of(ctx, *buffer));
    case FZ_IMAGE_JPX: return !jpeg2000_is_whole(data_of(ctx, *buffer));
    case FZ_IMAGE_JBIG2: return !jbig2_is_whole(data_of(ctx, *buffer));
    default: return rows_of_data(ctx, image) < image->h;
  }
}

}  // namespace layright
