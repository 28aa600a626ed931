// picture.fine: far more pixels than the press shows (common practice, no published source: 600, one-bit 2,400).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("picture.fine fires above its limit and not at it") {
  for (auto const& [side, fires] : {std::pair{7.2, false}, {7.25, false}, {7.1, true}}) {
    PdfMaker pdf;  // 60 pixels on 7.2 pt are 600 to the inch
    auto const image = pdf.image_gray(60, 60, std::vector<std::uint8_t>(3600, 90));
    pdf.page().use("XObject", "P", image).content("q " + real(side) + " 0 0 " + real(side) + " 50 60 cm /P Do Q");
    CHECK(ArtPage(pdf).silent("picture.fine") == !fires);
    CHECK(ArtPage(pdf, false, 50).silent("picture.fine") == false);
    CHECK(ArtPage(pdf, false, 200).silent("picture.fine"));
  }
}

TEST_CASE("picture.fine: one-bit pictures have their own limit") {
  PdfMaker pdf;
  auto const bit =
      pdf.stream("/Type /XObject /Subtype /Image /Width 240 /Height 8 /BitsPerComponent 1 /ColorSpace /DeviceGray", std::string(240, 'U'));
  pdf.page().use("XObject", "P", bit).content("q 7.2 0 0 0.24 50 60 cm /P Do Q");
  CHECK(ArtPage(pdf).silent("picture.fine"));
  auto const f = ArtPage(pdf, false, 90).finding("picture.fine");
  CHECK(number(f.measured, "ppi") == Approx(2400 / 0.9));
}
