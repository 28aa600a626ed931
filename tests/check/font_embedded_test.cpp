// font.embedded: fonts that do not come with the file (ISO 32000-1, 9.9 and 9.6.2.2).
#include "check/art_view.h"
#include "check/embedded_font.h"
#include "support/tiny_font.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage with_font(std::string const& name, char const* mode = "0 Tr") {
  PdfMaker pdf;
  auto const font = pdf.object("<< /Type /Font /Subtype /TrueType /BaseFont /" + name +
                               " /FirstChar 32 /LastChar 33 /Widths [300 300] /FontDescriptor << /Type /FontDescriptor /FontName /" + name +
                               " /Flags 32 /FontBBox [0 -200 1000 800] /ItalicAngle 0 /Ascent 800 /Descent -200 /CapHeight 700 /StemV 80 >> >>");
  pdf.page().use("Font", "F", font).content("0 g BT " + std::string(mode) + " /F 20 Tf 50 60 Td (Wren) Tj ET");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("font.embedded holds a font that the press would replace") {
  auto const f = with_font("Quillserif-Book").finding("font.embedded");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("Quillserif-Book") && Contains("--accept font.embedded"));
  REQUIRE(f.where);
  CHECK(Rect<SeenSpace>{49, 50, 130, 85}.contains(*f.where));
  CHECK(with_font("ABCDEF+Quillserif-Book").finding("font.embedded").level == Level::hold);
}

TEST_CASE("font.embedded tells the standard 14 only where a profile asks, and says nothing of text that is not shown") {
  for (auto const* name : {"Helvetica", "Courier-BoldOblique"}) {
    auto page = with_font(name);
    CHECK(page.silent("font.embedded"));
    page.target.limits.standard_fonts = true;
    CHECK(page.finding("font.embedded").level == Level::note);
  }
  CHECK(with_font("Quillserif-Book", "3 Tr").silent("font.embedded"));
  PdfMaker outside;
  outside.page().use("Font", "F", outside.font("Quillserif-Book")).content("0 g BT /F 20 Tf 900 60 Td (Wren) Tj ET 10 10 10 10 re f");
  CHECK(ArtPage(outside).silent("font.embedded"));
}

TEST_CASE("font.embedded is silent for a font that comes with the file") {
  PdfMaker pdf;
  pdf.page().use("Font", "F", embedded_font(pdf, tiny_truetype())).content("0 g BT /F 20 Tf 50 60 Td <00010002> Tj ET");
  CHECK(ArtPage(pdf).silent("font.embedded"));
  CHECK(ArtPage(pdf).silent("font.damaged"));
}
