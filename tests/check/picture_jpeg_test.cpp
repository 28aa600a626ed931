// picture.jpeg: strong compression, by ITU-T T.81, Annex K.1, in the scaling of the usual library.
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

#include <jpeglib.h>

namespace {

/// 16 x 16 pixels of gray, saved at a quality by libjpeg itself: the judge of our figure.
std::string jpeg(int quality) {
  jpeg_compress_struct c{};
  jpeg_error_mgr errors{};
  c.err = jpeg_std_error(&errors);
  jpeg_create_compress(&c);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&c, &bytes, &size);
  c.image_width = c.image_height = 16;
  c.input_components = 1;
  c.in_color_space = JCS_GRAYSCALE;
  jpeg_set_defaults(&c);
  jpeg_set_quality(&c, quality, TRUE);
  jpeg_start_compress(&c, TRUE);
  std::vector<unsigned char> row(16, 90);
  JSAMPROW rows[1] = {row.data()};
  while (c.next_scanline < 16) jpeg_write_scanlines(&c, rows, 1);
  jpeg_finish_compress(&c);
  std::string text(reinterpret_cast<char*>(bytes), size);
  jpeg_destroy_compress(&c);
  free(bytes);
  return text;
}

ArtPage page_with_jpeg(int quality) {
  PdfMaker pdf;
  auto const image =
      pdf.stream("/Type /XObject /Subtype /Image /Width 16 /Height 16 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /DCTDecode", jpeg(quality));
  pdf.page().use("XObject", "P", image).content("q 7 0 0 7 50 60 cm /P Do Q");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("picture.jpeg tells the quality that the library was asked for") {
  for (int const quality : {5, 10, 25, 49}) CHECK(number(page_with_jpeg(quality).finding("picture.jpeg").measured, "quality") == quality);
  for (int const quality : {50, 51, 75, 90, 100}) CHECK(page_with_jpeg(quality).silent("picture.jpeg"));
  auto page = page_with_jpeg(75);
  page.target.limits.jpeg_quality = 76;
  CHECK(number(page.finding("picture.jpeg").measured, "quality") == 75);
}

TEST_CASE("picture.jpeg is silent for what is no JPEG") {
  PdfMaker pdf;
  auto const image = pdf.image_gray(16, 16, std::vector<std::uint8_t>(256, 90));
  pdf.page().use("XObject", "P", image).content("q 7 0 0 7 50 60 cm /P Do Q");
  CHECK(ArtPage(pdf).silent("picture.jpeg"));
}
