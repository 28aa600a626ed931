// picture.square: stretched more one way than the other (the limit of 1.1 is our own).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("picture.square compares both directions, on both sides of its limit") {
  for (auto const& [high, fires] : {std::pair{100.0, false}, {110.0, false}, {110.2, true}, {90.7, true}, {91.0, false}}) {
    for (auto const* turn : {"0", "90"}) {
      PdfMaker pdf;
      auto const image = pdf.image_gray(20, 20, std::vector<std::uint8_t>(400, 90));
      pdf.page().rotate(turn).use("XObject", "P", image).content("q 100 0 0 " + real(high) + " 50 60 cm /P Do Q");
      CAPTURE(high);
      CHECK(ArtPage(pdf).silent("picture.square") == !fires);
    }
  }
}

TEST_CASE("picture.square measures along a picture's own rows when it lies aslant") {
  PdfMaker pdf;
  auto const image = pdf.image_gray(20, 20, std::vector<std::uint8_t>(400, 90));
  pdf.page().use("XObject", "P", image).content("q 70 70 -70 70 200 60 cm /P Do Q");
  CHECK(ArtPage(pdf).silent("picture.square"));
  PdfMaker odd;
  auto const other = odd.image_gray(20, 20, std::vector<std::uint8_t>(400, 90));
  odd.page().use("XObject", "P", other).content("q 70 70 -140 140 200 60 cm /P Do Q");
  CHECK(number(ArtPage(odd).finding("picture.square").measured, "ratio") == Approx(2));
}
