// white.paint: the art paints white on a press that prints it (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.paint tells white marks where the press prints white, and nowhere else") {
  PdfMaker pdf;
  pdf.page().content("0 g 40 40 200 200 re f 1 g 50 50 30 30 re f 0.97 g 90 50 30 30 re f 0 0 0 0 k 130 50 30 30 re f");
  auto const f = ArtPage(pdf, true).finding("white.paint");
  CHECK(number(f.measured, "count") == 2);
  CHECK(lies_on(f.where, {50, 50, 80, 80}));
  CHECK(ArtPage(pdf, false).silent("white.paint"));
}
