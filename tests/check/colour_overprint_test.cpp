// colour.overprint: white and spot colours that overprint (ISO 32000-1, 8.6.7).
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_overprinting(std::string const& content) {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "F", separation("Fern"))
      .use("ExtGState", "O", "<< /op true /OP true /OPM 1 >>")
      .use("ExtGState", "N", "<< /op false /OP false >>")
      .content("0 g 40 40 200 200 re f " + content);
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("colour.overprint tells white and spot colours that overprint, not black") {
  auto const white = page_overprinting("/O gs 0 0 0 0 k 50 50 30 30 re f").finding("colour.overprint");
  CHECK_THAT(white.message, Contains("white"));
  CHECK(lies_on(white.where, {50, 50, 80, 80}));
  CHECK_THAT(page_overprinting("/O gs /F cs 1 sc 50 50 30 30 re f").finding("colour.overprint").message, Contains("spot"));
  CHECK(page_overprinting("/O gs 0 0 0 1 k 50 50 30 30 re f").silent("colour.overprint"));
  CHECK(page_overprinting("/N gs 0 0 0 0 k 50 50 30 30 re f /F cs 1 sc 50 90 30 30 re f").silent("colour.overprint"));
  CHECK(page_overprinting("/O gs /F cs 0 sc 0 0 0 1 k 50 50 30 30 re f").silent("colour.overprint"));
}
