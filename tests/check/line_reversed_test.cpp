// line.reversed: light lines on a darker ground under one point as printed (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("line.reversed measures light lines on a dark ground, however the page is shown") {
  fires_below("line.reversed", 1,
              [](PdfMaker&, PageMaker& page, double width) { page.content("0 g 40 40 300 300 re f 1 G " + real(width) + " w 50 60 m 250 160 l S"); });
}

TEST_CASE("line.reversed needs a ground that is clearly darker") {
  PdfMaker light;
  light.page().content("0.7 g 40 40 300 300 re f 1 G 0.8 w 50 60 m 250 160 l S");
  CHECK(ArtPage(light).silent("line.reversed"));
  PdfMaker bare;
  bare.page().content("0 g 400 400 90 90 re f 1 G 0.8 w 50 60 m 250 160 l S");
  CHECK(ArtPage(bare).silent("line.reversed"));
  PdfMaker dark_on_dark;
  dark_on_dark.page().content("0 g 40 40 300 300 re f 0.2 G 0.8 w 50 60 m 250 160 l S");
  CHECK(ArtPage(dark_on_dark).silent("line.reversed"));
  PdfMaker covered;  // the dark ground was painted over
  covered.page().content("0 g 40 40 300 300 re f 0.9 g 40 40 300 300 re f 1 G 0.8 w 50 60 m 250 160 l S");
  CHECK(ArtPage(covered).silent("line.reversed"));
}
