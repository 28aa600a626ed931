// colour.spot: separations that are no process inks and not white (ISO 32000-1, 8.6.6.4 and 8.6.6.5).
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("colour.spot names the spot colours that marks show in") {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "F", separation("Fern"))
      .use("ColorSpace", "M", separation("Moss#203"))
      .use("ColorSpace", "U", separation("Unused"))
      .content("/F cs 1 sc 50 50 10 10 re f 0.5 sc 70 50 10 10 re f /M cs 1 sc 90 50 10 10 re f");
  auto const f = ArtPage(pdf).finding("colour.spot");
  CHECK(number(f.measured, "count") == 2);
  CHECK_THAT(f.message, Contains("Fern") && Contains("Moss 3") && !Contains("Unused"));
  CHECK(lies_on(f.where, {50, 50, 60, 60}));
}

TEST_CASE("colour.spot passes over process inks and white") {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "C", separation("Cyan", "1 0 0 0"))
      .use("ColorSpace", "W", separation("White", "0 0 0 0"))
      .content("/C cs 1 sc 50 50 10 10 re f /W cs 1 sc 70 50 10 10 re f 0 g 90 90 9 9 re f");
  CHECK(ArtPage(pdf).silent("colour.spot"));
  auto page = ArtPage(pdf);
  page.target.limits.white_inks = {"Underbase"};
  CHECK_THAT(page.finding("colour.spot").message, Contains("White"));
}
