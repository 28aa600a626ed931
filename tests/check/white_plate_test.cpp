// white.plate: a plate of white on a press that lays none (common practice, no published source).
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.plate tells separations that are listed as white, on a press without white") {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "W", separation("White", "0.1 0 0 0"))
      .use("ColorSpace", "U", separation("Underbase", "0 0.1 0 0"))
      .content("0 g 9 9 9 9 re f /W cs 1 sc 50 50 30 30 re f /U cs 1 sc 90 50 30 30 re f");
  auto page = ArtPage(pdf);
  CHECK(lies_on(page.finding("white.plate").where, {50, 50, 80, 80}));
  page.target.limits.white_inks = {"Underbase"};
  CHECK(lies_on(page.finding("white.plate").where, {90, 50, 120, 80}));
  page.target.limits.white_inks = {};
  CHECK(page.silent("white.plate"));
  CHECK(ArtPage(pdf, true).silent("white.plate"));
}
