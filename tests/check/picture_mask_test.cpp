// picture.mask: soft masks of few pixels (common practice, no published source: 150 to the inch).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_masked(double side, double percent = 100) {
  PdfMaker pdf;
  std::vector<std::uint8_t> mask(900, 255);
  for (std::size_t i = 0; i < 200; ++i) mask[i] = 0;
  auto const soft = pdf.image_gray(30, 30, mask);
  auto const image = pdf.image_gray(300, 300, std::vector<std::uint8_t>(90000, 90), "/SMask " + soft.text());
  pdf.page().use("XObject", "P", image).content("q " + real(side) + " 0 0 " + real(side) + " 50 60 cm /P Do Q");
  return ArtPage(pdf, false, percent);
}

}  // namespace

TEST_CASE("picture.mask looks at the mask, whatever the picture has") {
  CHECK(page_masked(14.4).silent("picture.mask"));
  CHECK(page_masked(14.5).silent("picture.ppi"));
  CHECK(number(page_masked(14.5).finding("picture.mask").measured, "ppi") == Approx(30 / 14.5 * 72));
  CHECK(page_masked(28.9, 50).findings("picture.mask").size() == 1);
  CHECK(page_masked(28.7, 50).silent("picture.mask"));
}
