// colour.black: small black text of several inks under 12 pt as printed (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("colour.black measures the em as printed, however the page is shown") {
  fires_below("colour.black", 12, [](PdfMaker& pdf, PageMaker& page, double size) {
    page.use("Font", "F", pdf.font()).content("0.6 0.4 0.4 1 k BT /F " + real(size) + " Tf 50 60 Td (Wren) Tj ET");
  });
}

TEST_CASE("colour.black is silent for black alone and for other colours") {
  for (auto const* color : {"0 0 0 1 k", "0 g", "0 0 0 rg", "0.6 0.4 0.4 0.5 k", "0.01 0 0.01 1 k"}) {
    PdfMaker pdf;
    pdf.page().use("Font", "F", pdf.font()).content(std::string(color) + " BT /F 7 Tf 50 60 Td (Wren) Tj ET");
    CAPTURE(color);
    CHECK(ArtPage(pdf).silent("colour.black"));
  }
}
