// font.damaged: embedded fonts that cannot be read (ISO 32000-1, 9.9).
#include "check/art_view.h"
#include "check/embedded_font.h"
#include "support/tiny_font.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_program(std::string const& program, std::string const& shown) {
  PdfMaker pdf;
  pdf.page().use("Font", "F", embedded_font(pdf, program)).content("0 g 10 10 20 20 re f BT /F 20 Tf 50 60 Td " + shown + " Tj ET");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("font.damaged holds a font whose program is broken, and no sound one") {
  CHECK(page_with_program(tiny_truetype(), "<00010002>").silent("font.damaged"));
  auto const f = page_with_program("this is no font program at all", "<00410042>").finding("font.damaged");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("Quillserif-Book"));
}
