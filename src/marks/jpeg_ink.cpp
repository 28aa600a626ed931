#include "marks/jpeg_ink.h"

#include <algorithm>
#include <cmath>

#include "convert/jpeg_reader.h"
#include "marks/jpeg_whole.h"
#include "marks/picture_white.h"
#include "marks/pixel_judge.h"

namespace layright {
namespace {

struct Data {
  unsigned char* bytes = nullptr;
  std::size_t size = 0;
};

/// Its bytes where they are those of a JPEG whose samples are what they seem, in grey or RGB.
Data plain_jpeg(fz_context* ctx, fz_image* image) {
  bool const grey = image->colorspace == fz_device_gray(ctx), rgb = image->colorspace == fz_device_rgb(ctx);
  if ((!grey && !rgb) || image->bpc != 8 || image->use_decode || image->use_colorkey || image->imagemask) return {};
  Data data;
  fz_var(data);
  fz_try(ctx) {
    auto const* const buffer = fz_compressed_image_buffer(ctx, image);
    if (buffer && buffer->buffer && buffer->params.type == FZ_IMAGE_JPEG && buffer->params.u.jpeg.color_transform < 0)
      data.size = fz_buffer_storage(ctx, buffer->buffer, &data.bytes);
  }
  fz_catch(ctx) data = {};
  return data;
}

/// How often it may be halved and still be as fine as asked; as the library reckons.
int halvings(fz_image const& image, fz_matrix const& matrix) {
  int const wide = static_cast<int>(std::hypot(matrix.a, matrix.b)) + 2, high = static_cast<int>(std::hypot(matrix.c, matrix.d)) + 2;
  int n = 0;
  while (n < 3 && (image.w >> (n + 1)) >= wide && (image.h >> (n + 1)) >= high) ++n;
  return n;
}

struct PictureArt {
  WhiteParts white;
  std::vector<WhiteKind> kinds;
  JSAMPLE least[3] = {255, 255, 255}, most[3] = {0, 0, 0};  // of each sample
  bool flat() const {
    constexpr int kNoise = 3;  // steps of 255: what compressing makes of one color
    return most[0] - least[0] <= kNoise && most[1] - least[1] <= kNoise && most[2] - least[2] <= kNoise;
  }
  /// One that is not flat any more never will be again.
  void note_row(JSAMPLE const* row, int width, int samples) {
    if (!flat()) return;
    for (int x = 0; x < width; ++x)
      for (int i = 0; i < samples; ++i) {
        least[i] = std::min(least[i], row[x * samples + i]);
        most[i] = std::max(most[i], row[x * samples + i]);
      }
  }
};

/// The tints of a picture's outermost columns, a row each.
struct Columns {
  std::vector<float> left, right;
};

// Nothing in here may have a destructor: an error jumps over it. `ink.rows` and all columns are large enough before.
bool look(JpegReader& reader, fz_image const& image, int halved, PixelJudge const& judge, ImageInk& ink, PictureBorder& border, Columns& columns,
          PictureArt& art) {
  auto& info = reader.info;
  jpeg_read_header(&info, TRUE);
  if (info.image_width != static_cast<JDIMENSION>(image.w) || info.image_height != static_cast<JDIMENSION>(image.h)) return false;
  // In a PDF three components are YCbCr unless Adobe's marker says otherwise, whatever they are called (ISO 32000-1, Table 13).
  if (info.num_components == 3 && !info.saw_Adobe_marker) info.jpeg_color_space = JCS_YCbCr;
  info.scale_num = 8U >> halved;
  info.scale_denom = 8;
  jpeg_start_decompress(&info);
  int const samples = info.output_components;
  if (samples != (info.out_color_space == JCS_GRAYSCALE ? 1 : 3) || samples != image.n || info.output_height > ink.rows.size()) return false;
  auto* const row = reader.row();
  ink.width = static_cast<int>(info.output_width);
  ink.height = static_cast<int>(info.output_height);
  while (info.output_scanline < info.output_height) {
    auto const y = info.output_scanline;
    jpeg_read_scanlines(&info, row, 1);
    art.note_row(row[0], ink.width, samples);
    for (int x = 0; x < ink.width; ++x) {
      auto const pixel = judge(row[0] + x * samples, 255);
      note_pixel(ink, y, x, pixel);
      art.kinds[static_cast<std::size_t>(x)] = white_kind(pixel);
    }
    if (judge.rule() == InkRule::on_paper) art.white.row(art.kinds.data(), ink.width);
    columns.left[y] = judge.tint(row[0], 255);
    columns.right[y] = judge.tint(row[0] + (ink.width - 1) * samples, 255);
    if (y > 0 && y + 1 < info.output_height) continue;
    for (int x = 0; x < ink.width; ++x) border.add(judge.tint(row[0] + x * samples, 255));
  }
  jpeg_finish_decompress(&info);
  return true;
}

}  // namespace

std::optional<ImageInk> look_at_jpeg(fz_context* ctx, fz_image* image, fz_matrix const& matrix, InkRule rule, float alpha) {
  auto const data = plain_jpeg(ctx, image);
  if (data.size == 0) return std::nullopt;
  ImageInk ink;
  ink.rows.assign(static_cast<std::size_t>(image->h), {});
  ink.faint.assign(static_cast<std::size_t>(image->h), {});
  ink.all = true;
  PictureBorder border;
  Columns columns{std::vector<float>(ink.rows.size()), std::vector<float>(ink.rows.size())};
  PictureArt art{{}, std::vector<WhiteKind>(static_cast<std::size_t>(image->w))};
  bool made_up = false, looked = false;
  JpegReader reader(std::as_bytes(std::span(data.bytes, data.size)), [&](int code) { made_up = made_up || makes_something_up(code); });
  PixelJudge const judge(rule, alpha, image->n, false);
  reader.run([&] { looked = look(reader, *image, halvings(*image, matrix), judge, ink, border, columns, art); });

  if (!looked) return std::nullopt;
  ink.cut = made_up;
  ink.white = art.white.parts();
  ink.flat = art.flat();
  auto const height = static_cast<std::size_t>(ink.height);
  ink.rows.resize(height);
  ink.faint.resize(height);
  for (auto const& column : {columns.left, columns.right})
    for (std::size_t y = 0; y < height; ++y) border.add(column[y]);
  settle_white(ink, border, true);
  return ink;
}

}  // namespace layright
