// picture.mirror: some pictures mirrored, others not (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_halves(std::string const& content, char const* turn = "0") {
  PdfMaker pdf;
  auto const image = pdf.image_gray(20, 20, std::vector<std::uint8_t>(400, 90));
  pdf.page().rotate(turn).use("XObject", "P", image).content(content);
  return ArtPage(pdf);
}

std::string const kUpright = "q 100 0 0 100 50 60 cm /P Do Q ", kTurned = "q 0 100 -100 0 300 60 cm /P Do Q ",
                  kMirrored = "q -100 0 0 100 500 60 cm /P Do Q ";

}  // namespace

TEST_CASE("picture.mirror tells the odd ones among the others") {
  for (auto const* turn : {"0", "90", "180", "270"}) {
    auto const f = page_with_halves(kUpright + kTurned + kMirrored, turn).finding("picture.mirror");
    CHECK(number(f.measured, "mirrored") == 1);
    CHECK(number(f.measured, "upright") == 2);
    CHECK_THAT(f.message, Contains("1 picture is mirrored"));
  }
  CHECK_THAT(page_with_halves(kUpright + kMirrored + kMirrored).finding("picture.mirror").message, Contains("1 picture is not mirrored"));
  CHECK(lies_on(page_with_halves(kUpright + kTurned + kMirrored).finding("picture.mirror").where, {400, 60, 500, 160}));
}

TEST_CASE("picture.mirror is silent where all lie the same way") {
  CHECK(page_with_halves(kUpright + kTurned).silent("picture.mirror"));
  CHECK(page_with_halves(kMirrored + kMirrored).silent("picture.mirror"));
}
