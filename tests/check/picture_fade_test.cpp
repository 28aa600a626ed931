// picture.fade: soft masks with half-clear areas (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

/// 64 x 64, opaque to the left, clear to the right, with so many columns of a fade between.
ArtPage page_faded(int fade) {
  PdfMaker pdf;
  std::vector<std::uint8_t> mask;
  for (int y = 0; y < 64; ++y)
    for (int x = 0; x < 64; ++x) mask.push_back(static_cast<std::uint8_t>(x < 20 ? 255 : x >= 20 + fade ? 0 : 255 - 255 * (x - 19) / (fade + 1)));
  auto const soft = pdf.image_gray(64, 64, mask);
  auto const image = pdf.image_gray(8, 8, std::vector<std::uint8_t>(64, 90), "/SMask " + soft.text());
  pdf.page().use("XObject", "P", image).content("q 60 0 0 60 50 60 cm /P Do Q");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("picture.fade tells a fade and not a smoothed edge") {
  CHECK(page_faded(0).silent("picture.fade"));
  CHECK(page_faded(2).silent("picture.fade"));
  CHECK(page_faded(6).silent("picture.fade"));  // no pixel of it is half clear 3 pixels to each side
  auto const f = page_faded(20).finding("picture.fade");
  CHECK(f.level == Level::note);
  CHECK(f.where.has_value());
}
