// picture.ppi: too few pixels to the inch as printed (common practice, no published source: 150, one-bit 600).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

/// 30 x 30 pixels of more than one color.
std::vector<std::uint8_t> two_tones() {
  std::vector<std::uint8_t> samples(30 * 30, 90);
  std::fill(samples.begin(), samples.begin() + 450, std::uint8_t{140});
  return samples;
}

/// Side points wide.
void add_picture(PdfMaker& pdf, PageMaker& page, double side, std::string const& more = "") {
  auto const samples = two_tones();
  page.use("XObject", "P", pdf.image_gray(30, 30, samples, more)).content("q " + real(side) + " 0 0 " + real(side) + " 50 60 cm /P Do Q");
}

}  // namespace

TEST_CASE("picture.ppi looks at pixels to the inch as printed, on both sides of its limit") {
  // 30 pixels on 14.4 pt are 150 to the inch.
  for (auto const& shown : kShown) {
    CAPTURE(shown.rotate, shown.unit, shown.percent);
    for (auto const& [side, fires] : {std::pair{14.4, false}, {14.35, false}, {14.5, true}}) {
      PdfMaker pdf;
      add_picture(pdf, pdf.page().rotate(shown.rotate).user_unit(shown.unit), side / shown.factor);
      ArtPage const page(pdf, false, shown.percent);
      CHECK(page.silent("picture.ppi") == !fires);
    }
  }
}

TEST_CASE("picture.ppi takes the lesser direction, counts, and names its places") {
  PdfMaker pdf;
  auto const samples = two_tones();
  auto const image = pdf.image_gray(30, 30, samples);
  pdf.page().use("XObject", "P", image).content("q 14.4 0 0 144 50 60 cm /P Do Q q 10 0 0 10 300 300 cm /P Do Q q 72 0 0 72 400 400 cm /P Do Q");
  auto const f = ArtPage(pdf).finding("picture.ppi");
  CHECK(f.level == Level::note);
  CHECK(number(f.measured, "ppi") == Approx(15));
  CHECK(number(f.measured, "count") == 2);
  CHECK(lies_on(f.where, {50, 60, 64.4, 204}));
  REQUIRE(f.places.size() == 1);
  CHECK(lies_on(f.places[0], {400, 400, 472, 472}));
}

TEST_CASE("picture.ppi: one-bit pictures and stencils have their own limit, patterns of few pixels none") {
  PdfMaker pdf;
  std::string const bits(30 * 4, '\x55');
  auto const bit = pdf.stream("/Type /XObject /Subtype /Image /Width 30 /Height 30 /BitsPerComponent 1 /ColorSpace /DeviceGray", bits);
  auto const stencil = pdf.stream("/Type /XObject /Subtype /Image /Width 30 /Height 30 /BitsPerComponent 1 /ImageMask true", bits);
  pdf.page().use("XObject", "B", bit).use("XObject", "S", stencil).content("q 3.6 0 0 3.6 50 60 cm /B Do Q q 3.6 0 0 3.6 80 60 cm /S Do Q");
  CHECK(ArtPage(pdf).silent("picture.ppi"));  // 30 pixels on 3.6 pt are 600
  PdfMaker coarse;
  auto const other = coarse.stream("/Type /XObject /Subtype /Image /Width 30 /Height 30 /BitsPerComponent 1 /ImageMask true", bits);
  coarse.page().use("XObject", "S", other).content("q 3.7 0 0 3.7 50 60 cm /S Do Q");
  CHECK(number(ArtPage(coarse).finding("picture.ppi").wanted, "ppi") == 600);
  PdfMaker pattern;
  auto const few = pattern.image_gray(4, 4, std::vector<std::uint8_t>(16, 90));
  pattern.page().use("XObject", "P", few).content("q 144 0 0 144 50 60 cm /P Do Q");
  CHECK(ArtPage(pattern).silent("picture.ppi"));
}

TEST_CASE("picture.ppi passes over what does not show") {
  PdfMaker pdf;
  auto const image = pdf.image_gray(30, 30, std::vector<std::uint8_t>(900, 90));
  pdf.page()
      .use("XObject", "P", image)
      .content("0 g 10 10 50 50 re f q 0 0 20 20 re W n 144 0 0 144 300 300 cm /P Do Q q 144 0 0 144 900 900 cm /P Do Q");
  CHECK(ArtPage(pdf).silent("picture.ppi"));
}
