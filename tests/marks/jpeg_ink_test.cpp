// A JPEG looked at while it is decoded: the same pixels leave ink as when the library decodes it whole.
#include "marks/jpeg_ink.h"

#include <catch2/catch.hpp>

#include <array>
#include <cstdio>
#include <cstdlib>

#include <jpeglib.h>

using namespace layright;

namespace {

constexpr int kArtWide = 203, kArtHigh = 117;  // no whole number of blocks

/// White, with a grey disc and a coloured bar; or in one colour all over.
std::vector<unsigned char> art(int samples, bool flat) {
  std::vector<unsigned char> pixels(static_cast<std::size_t>(kArtWide) * kArtHigh * static_cast<std::size_t>(samples), flat ? 90 : 255);
  for (int y = 0; y < kArtHigh && !flat; ++y)
    for (int x = 0; x < kArtWide; ++x) {
      bool const disc = (x - 60) * (x - 60) + (y - 50) * (y - 50)<700, bar = x> 150 && x < 190 && y > 20 && y < 23;
      auto* const p = pixels.data() + (static_cast<std::size_t>(y) * kArtWide + static_cast<std::size_t>(x)) * static_cast<std::size_t>(samples);
      for (int s = 0; s < samples; ++s) p[s] = static_cast<unsigned char>(disc ? 120 : bar ? 40 + 80 * s : 255);
    }
  return pixels;
}

struct Jpeg {
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  ~Jpeg() { std::free(bytes); }
};

void pack(Jpeg& out, int samples, bool flat, bool progressive) {
  auto pixels = art(samples, flat);
  jpeg_error_mgr errors{};
  jpeg_compress_struct info{};
  info.err = jpeg_std_error(&errors);
  jpeg_create_compress(&info);
  jpeg_mem_dest(&info, &out.bytes, &out.size);
  info.image_width = kArtWide;
  info.image_height = kArtHigh;
  info.input_components = samples;
  info.in_color_space = samples == 1 ? JCS_GRAYSCALE : samples == 3 ? JCS_RGB : JCS_CMYK;
  jpeg_set_defaults(&info);
  jpeg_set_quality(&info, 85, TRUE);
  if (progressive) jpeg_simple_progression(&info);
  jpeg_start_compress(&info, TRUE);
  while (info.next_scanline < info.image_height) {
    auto* row = pixels.data() + static_cast<std::size_t>(info.next_scanline) * kArtWide * static_cast<std::size_t>(samples);
    jpeg_write_scanlines(&info, &row, 1);
  }
  jpeg_finish_compress(&info);
  jpeg_destroy_compress(&info);
}

struct Library {
  fz_context* ctx = fz_new_context(nullptr, nullptr, FZ_STORE_DEFAULT);
  ~Library() { fz_drop_context(ctx); }
};

fz_image* image_of(fz_context* ctx, unsigned char const* bytes, std::size_t size) {
  fz_buffer* const buffer = fz_new_buffer_from_copied_data(ctx, bytes, size);
  fz_image* const image = fz_new_image_from_buffer(ctx, buffer);
  fz_drop_buffer(ctx, buffer);
  return image;
}

}  // namespace

TEST_CASE("a JPEG leaves ink where the library's decoding of it does") {
  Library library;
  for (int samples : {1, 3})
    for (bool flat : {false, true})
      for (bool progressive : {false, true})
        for (auto rule : {InkRule::on_paper, InkRule::any_paint, InkRule::luminosity})
          for (float alpha : {1.0F, 0.5F})
            for (float scale : {1.0F, 0.45F, 0.2F, 0.11F, 3.0F}) {
              INFO(samples << " samples, flat " << flat << ", progressive " << progressive << ", rule " << static_cast<int>(rule) << ", alpha "
                           << alpha << ", scale " << scale);
              Jpeg jpeg;
              pack(jpeg, samples, flat, progressive);
              fz_image* const image = image_of(library.ctx, jpeg.bytes, jpeg.size);
              auto const matrix = fz_make_matrix(kArtWide * scale, 0, 0, kArtHigh * scale, 0, 0);
              auto const looked = look_at_jpeg(library.ctx, image, matrix, rule, alpha);
              fz_pixmap* const pixels = image_pixels(library.ctx, image, matrix);
              REQUIRE(looked);
              REQUIRE(pixels);
              auto const whole = look_at_pixels(*pixels, nullptr, rule, alpha, {.colours = true});
              CHECK(looked->width == whole.width);
              CHECK(looked->height == whole.height);
              CHECK(looked->any == whole.any);
              CHECK(looked->all == whole.all);
              CHECK(looked->covers == whole.covers);
              CHECK(looked->read);
              REQUIRE(looked->rows.size() == whole.rows.size());
              bool same = true;
              for (std::size_t y = 0; y < whole.rows.size(); ++y) {
                auto const &a = looked->rows[y], &b = whole.rows[y];
                same = same && ((a.from >= a.to && b.from >= b.to) || (a.from == b.from && a.to == b.to));
              }
              CHECK(same);
              fz_drop_pixmap(library.ctx, pixels);
              fz_drop_image(library.ctx, image);
            }
}

TEST_CASE("what is no plain JPEG is left to the library") {
  Library library;
  Jpeg inks, cut;
  pack(inks, 4, false, false);
  fz_image* image = image_of(library.ctx, inks.bytes, inks.size);
  CHECK_FALSE(look_at_jpeg(library.ctx, image, fz_scale(kArtWide, kArtHigh), InkRule::on_paper, 1));
  fz_drop_image(library.ctx, image);
  pack(cut, 3, false, false);
  image = image_of(library.ctx, cut.bytes, cut.size);
  image->w += 1;  // says another size than its data has
  CHECK_FALSE(look_at_jpeg(library.ctx, image, fz_scale(kArtWide, kArtHigh), InkRule::on_paper, 1));
  image->w -= 1;
  image->use_decode = 1;
  CHECK_FALSE(look_at_jpeg(library.ctx, image, fz_scale(kArtWide, kArtHigh), InkRule::on_paper, 1));
  fz_drop_image(library.ctx, image);
}
