// text.small: text in one solid ink under 6 pt as printed (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("text.small measures the em as printed, however the page is shown") {
  fires_below("text.small", 6, [](PdfMaker& pdf, PageMaker& page, double size) {
    page.use("Font", "F", pdf.font()).content("0 g BT /F " + real(size) + " Tf 50 60 Td (Wren) Tj ET");
  });
}

TEST_CASE("text.small looks at the letters' own matrix, not at the font size alone") {
  fires_below("text.small", 6, [](PdfMaker& pdf, PageMaker& page, double size) {
    page.use("Font", "F", pdf.font()).content("0 g BT /F 1 Tf 0 " + real(size) + " " + real(-size) + " 0 50 60 Tm (Wren) Tj ET");
  });
}

TEST_CASE("text.small passes over invisible, white and larger text, and names where the small one is") {
  PdfMaker pdf;
  pdf.page()
      .use("Font", "F", pdf.font())
      .content(
          "BT /F 4 Tf 3 Tr 50 60 Td (Hidden) Tj ET BT 0 Tr 1 g /F 4 Tf 50 90 Td (White) Tj ET BT 0 g /F 9 Tf 50 120 Td (Large) Tj ET BT /F 5 Tf 50 "
          "300 Td (Small) Tj ET");
  auto const f = ArtPage(pdf).finding("text.small");
  CHECK(number(f.measured, "count") == 1);
  CHECK(number(f.measured, "em_pt") == Approx(5).margin(1e-3));
  REQUIRE(f.where);
  CHECK(Rect<SeenSpace>{49, 298, 70, 306}.contains(*f.where));
}

TEST_CASE("text.small goes by the height that letters are drawn at, and passes over text that other marks cover") {
  auto const page = [](std::string const& content) {
    PdfMaker pdf;
    pdf.page().use("Font", "F", pdf.font()).content(content);
    return ArtPage(pdf);
  };
  CHECK(number(page("BT /F 12 Tf 1 0 0 0.25 50 50 Tm (Small) Tj ET").finding("text.small").measured, "em_pt") == Approx(3).margin(1e-3));
  CHECK(page("BT /F 12 Tf 0.6 0 0 1 50 50 Tm (Narrow) Tj ET").silent("text.small"));
  CHECK(page("BT /F 4 Tf 50 60 Td (Small) Tj ET 0.3 g 40 40 150 100 re f").silent("text.small"));
}
