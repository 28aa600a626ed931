// white.half: half-clear white on a press that prints white (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.half tells half-clear white, and no opaque or coloured one") {
  PdfMaker pdf;
  pdf.page()
      .use("ExtGState", "H", "<< /ca 0.5 >>")
      .content("0 g 40 40 200 200 re f 1 g 50 50 30 30 re f /H gs 90 50 30 30 re f 1 0 0 rg 130 50 30 30 re f");
  auto const f = ArtPage(pdf, true).finding("white.half");
  CHECK(number(f.measured, "count") == 1);
  CHECK(lies_on(f.where, {90, 50, 120, 80}));
  CHECK(ArtPage(pdf, false).silent("white.half"));
}
