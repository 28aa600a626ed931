// picture.smooth: Interpolate on a picture of few pixels (ISO 32000-1, 8.9.5.3).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_smoothed(double side, std::string const& more) {
  PdfMaker pdf;
  auto const image = pdf.image_gray(30, 30, std::vector<std::uint8_t>(900, 90), more);
  pdf.page().use("XObject", "P", image).content("q " + real(side) + " 0 0 " + real(side) + " 50 60 cm /P Do Q");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("picture.smooth fires for few pixels only, and only when asked to smooth") {
  CHECK(page_smoothed(14.4, "/Interpolate true").silent("picture.smooth"));
  CHECK(page_smoothed(14.5, "/Interpolate true").finding("picture.smooth").level == Level::note);
  CHECK(page_smoothed(14.5, "/Interpolate false").silent("picture.smooth"));
  CHECK(page_smoothed(14.5, "").silent("picture.smooth"));
}
