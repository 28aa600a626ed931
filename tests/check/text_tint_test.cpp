// text.tint: text in a tint or in several inks under 8 pt as printed (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage text(std::string const& color) {
  PdfMaker pdf;
  pdf.page().use("Font", "F", pdf.font()).content(color + " BT /F 7 Tf 50 60 Td (Wren) Tj ET");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("text.tint measures the em as printed, however the page is shown") {
  fires_below("text.tint", 8, [](PdfMaker& pdf, PageMaker& page, double size) {
    page.use("Font", "F", pdf.font()).content("0.5 g BT /F " + real(size) + " Tf 50 60 Td (Wren) Tj ET");
  });
}

TEST_CASE("text.tint knows one solid ink from tints and mixtures") {
  for (auto const* solid : {"0 g", "0 0 0 1 k", "1 0 0 0 k", "0 1 0 0 k", "0 0 0 rg", "0 1 1 rg", "0.04 g", "0 0 0.01 0.97 k"}) {
    CAPTURE(solid);
    CHECK(text(solid).silent("text.tint"));
  }
  for (auto const* mixed : {"0.5 g", "0 0 0 0.5 k", "0.3 0 0 1 k", "1 1 0 0 k", "1 0 0 rg", "0.2 0.3 0.4 rg", "0.9 0.9 0.9 rg"}) {
    CAPTURE(mixed);
    CHECK(text(mixed).findings("text.tint").size() == 1);
    CHECK(text(mixed).silent("text.small"));
  }
}

TEST_CASE("text.tint takes half-clear text for a tint") {
  PdfMaker pdf;
  pdf.page().use("Font", "F", pdf.font()).use("ExtGState", "G", "<< /ca 0.5 >>").content("/G gs 0 g BT /F 7 Tf 50 60 Td (Wren) Tj ET");
  CHECK(ArtPage(pdf).findings("text.tint").size() == 1);
}
