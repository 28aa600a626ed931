// font.missing: glyphs that stand for what the font does not have (ISO 32000-1, 9.7.6.3).
#include "check/art_view.h"
#include "check/embedded_font.h"
#include "support/tiny_font.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_packaged(std::string const& program, std::string const& shown) {
  PdfMaker pdf;
  pdf.page().use("Font", "F", embedded_font(pdf, program)).content("0 g 10 10 20 20 re f BT /F 20 Tf 50 60 Td " + shown + " Tj ET");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("font.missing counts visible glyphs of number 0") {
  auto const f = page_with_packaged(packaged_font(), "<0024000000250000>").finding("font.missing");
  CHECK(number(f.measured, "count") == 2);
  CHECK(page_with_packaged(packaged_font(), "<00240025>").silent("font.missing"));
}

TEST_CASE("font.missing passes over a glyph 0 that is empty") { CHECK(page_with_packaged(tiny_truetype(), "<000100000002>").silent("font.missing")); }
