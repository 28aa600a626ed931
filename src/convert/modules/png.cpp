// The part of the program that needs libpng: transparency of every kind, and interlaced pictures.
#include <png.h>

#include <csetjmp>
#include <cstring>

#include "convert/modules/split_alpha.h"
#include "convert/png.h"

namespace layright {
namespace {

struct Input {
  std::span<std::byte const> left;
};

void take_bytes(png_structp png, png_bytep into, png_size_t size) {
  auto& input = *static_cast<Input*>(png_get_io_ptr(png));
  if (size > input.left.size()) png_error(png, "ends too early");
  std::memcpy(into, input.left.data(), size);
  input.left = input.left.subspan(size);
}

void keep_quiet(png_structp, png_const_charp) {}
void give_up(png_structp png, png_const_charp) { png_longjmp(png, 1); }

/// What is read with: made outside of the library's jumps, so that nothing with a destructor lies between.
struct Reading {
  Input input;
  std::vector<png_byte> pixels;
  std::vector<png_bytep> rows;
  std::vector<std::byte> colour, alpha;
  Outcome outcome = done();
  long width = 0, height = 0;
  int bits = 8, channels = 0, passes = 1;
  bool begun = false;
};

void read_rows(png_structp png, png_infop info, Reading& r, Picture& picture, PictureSink& sink) {
  png_set_sig_bytes(png, 0);
  png_set_user_limits(png, 0x7FFFFFFF, 0x7FFFFFFF);
  png_read_info(png, info);
  int const type = png_get_color_type(png, info);
  if (type == PNG_COLOR_TYPE_PALETTE) png_set_palette_to_rgb(png);
  if (type == PNG_COLOR_TYPE_GRAY && png_get_bit_depth(png, info) < 8 && png_get_valid(png, info, PNG_INFO_tRNS)) png_set_expand_gray_1_2_4_to_8(png);
  if (png_get_valid(png, info, PNG_INFO_tRNS)) png_set_tRNS_to_alpha(png);
  r.passes = png_set_interlace_handling(png);
  png_read_update_info(png, info);
  r.width = png_get_image_width(png, info);
  r.height = png_get_image_height(png, info);
  r.bits = png_get_bit_depth(png, info);
  r.channels = png_get_channels(png, info);
  bool const alpha = (png_get_color_type(png, info) & PNG_COLOR_MASK_ALPHA) != 0;
  picture.palette.clear();
  picture.bits = r.bits;
  picture.alpha_bits = alpha ? r.bits : 0;
  r.outcome = sink.begin(picture);
  if (!r.outcome) return;
  auto const row_bytes = png_get_rowbytes(png, info);
  r.pixels.resize(row_bytes * static_cast<std::size_t>(r.passes > 1 ? r.height : 1));
  if (r.passes > 1) {
    for (long y = 0; y < r.height; ++y) r.rows.push_back(r.pixels.data() + row_bytes * static_cast<std::size_t>(y));
    png_read_image(png, r.rows.data());
  }
  SplitAlpha split(picture.samples(), r.bits, r.width);
  for (long y = 0; y < r.height; ++y) {
    auto* const row = r.passes > 1 ? r.rows[static_cast<std::size_t>(y)] : r.pixels.data();
    if (r.passes <= 1) png_read_row(png, row, nullptr);
    auto const* const samples = reinterpret_cast<std::byte const*>(row);
    if (!alpha) sink.row(samples, nullptr);
    else split.row(samples, r.colour, r.alpha), sink.row(r.colour.data(), r.alpha.data());
  }
  png_read_end(png, nullptr);
}

bool guarded(png_structp png, png_infop info, Reading& r, Picture& picture, PictureSink& sink) {
  if (setjmp(png_jmpbuf(png))) return false;
  png_set_read_fn(png, &r.input, take_bytes);
  read_rows(png, info, r, picture, sink);
  return true;
}

}  // namespace

static Outcome read_pictures(std::span<std::byte const> bytes, PictureSink& sink) {
  auto facts = png_facts(bytes);
  if (!facts) return facts.error();
  Reading reading;
  reading.input.left = bytes;
  png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, nullptr, give_up, keep_quiet);
  png_infop info = png ? png_create_info_struct(png) : nullptr;
  if (!info) return Error{ErrorKind::internal, "libpng cannot be used"};
  bool const read = guarded(png, info, reading, facts->picture, sink);
  png_destroy_read_struct(&png, &info, nullptr);
  if (!reading.outcome) return reading.outcome;
  return read ? sink.end() : cut_short();
}

extern "C" __attribute__((visibility("default"))) void layright_read(std::span<std::byte const> bytes, PictureSink& sink, Outcome& outcome) {
  outcome = read_pictures(bytes, sink);
}

}  // namespace layright
