// line.thin: lines under half a point as printed (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("line.thin measures strokes as printed, however the page is shown") {
  fires_below("line.thin", 0.5, [](PdfMaker&, PageMaker& page, double width) { page.content("0 G " + real(width) + " w 50 60 m 250 160 l S"); });
}

TEST_CASE("line.thin takes a scaled pen at its narrowest, a width of 0, and thin rectangles") {
  PdfMaker squeezed;
  squeezed.page().content("0 G 1 w q 1 0 0 0.4 0 0 cm 50 60 m 250 60 l S 50 60 m 50 500 l S Q");  // 0.4 pt, and 1 pt where it runs upright
  CHECK(number(ArtPage(squeezed).finding("line.thin").measured, "width_pt") == Approx(0.4).margin(1e-4));
  PdfMaker hairline;
  hairline.page().content("0 G 0 w 50 60 m 250 60 l S");
  auto const f = ArtPage(hairline).finding("line.thin");
  CHECK(number(f.measured, "width_pt") == 0);
  CHECK_THAT(f.message, Contains("hairline"));
  fires_below("line.thin", 0.5, [](PdfMaker&, PageMaker& page, double width) { page.content("0 g 50 60 100 " + real(width) + " re f"); });
  PdfMaker speck;
  speck.page().content("0 g 50 60 0.4 0.4 re f");  // no line: as long as it is wide
  CHECK(ArtPage(speck).silent("line.thin"));
}

TEST_CASE("line.thin takes thin outlines of letters and turned bars, and no lines that other marks cover") {
  auto const page = [](std::string const& content) {
    PdfMaker pdf;
    pdf.page().use("Font", "F", pdf.font()).content(content);
    return ArtPage(pdf);
  };
  CHECK(number(page("BT 1 Tr 0.1 w /F 60 Tf 50 50 Td (A) Tj ET").finding("line.thin").measured, "width_pt") == Approx(0.1).margin(1e-4));
  CHECK(number(page("0.6 0.8 -0.8 0.6 200 50 cm 0 0 100 0.3 re f").finding("line.thin").measured, "width_pt") == Approx(0.3).margin(1e-3));
  CHECK(page("q 4 0 0 1 0 0 cm 0.2 w 20 50 m 20 250 l S Q").silent("line.thin"));
  CHECK(page("0.1 w 50 50 m 150 100 l S 0.3 g 40 40 150 100 re f").silent("line.thin"));
}

TEST_CASE("line.thin counts, names places on the lines, and passes over what is hidden or white") {
  PdfMaker pdf;
  pdf.page().content(
      "0 G 0.2 w 50 60 m 250 60 l S 0.3 w 50 500 m 250 500 l S 2 w 50 300 m 250 300 l S 1 G 0.2 w 50 700 m 90 700 l S 0 G 900 9 m 950 9 l S "
      "q 0 0 10 10 re W n 300 300 m 400 300 l S Q");
  auto const f = ArtPage(pdf).finding("line.thin");
  CHECK(number(f.measured, "count") == 2);
  CHECK(number(f.measured, "width_pt") == Approx(0.2).margin(1e-4));
  CHECK(lies_on(f.where, {50, 59.9, 250, 60.1}));
  REQUIRE(f.places.size() == 1);
  CHECK(lies_on(f.places[0], {50, 499.9, 250, 500.1}));
}
