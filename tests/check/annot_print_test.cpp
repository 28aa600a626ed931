// annot.print: ISO 32000-1, 12.5.3, Table 165: Print is bit 3 (4), Hidden bit 2 (2).
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("annot.print counts annotations that print") {
  PdfMaker pdf;
  auto& page = pdf.page();
  SECTION("none") { CHECK(page_of(pdf).silent("annot.print")); }
  SECTION("one on the screen only, one hidden") {
    page.annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9]").annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9] /F 6");
    CHECK(page_of(pdf).silent("annot.print"));
  }
  SECTION("two that print") {
    page.annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9] /F 4").annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9] /F 36");
    auto const f = page_of(pdf).finding("annot.print");
    CHECK(f.level == Level::note);
    CHECK(number(f.measured, "count") == 2);
    CHECK_THAT(f.message, Contains("2 annotations print"));
  }
}
