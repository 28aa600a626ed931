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
    page.annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9] /C [0] /F 4")
        .annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9] /C [0] /F 36");
    auto const f = page_of(pdf).finding("annot.print");
    CHECK(f.level == Level::note);
    CHECK(number(f.measured, "count") == 2);
    CHECK_THAT(f.message, Contains("2 annotations print"));
  }
  SECTION("a sticky note's sign is left out, and that is told") {
    page.annotation("/Type /Annot /Subtype /Text /Rect [0 0 9 9] /F 4 /Contents (call me)");
    auto const f = page_of(pdf).finding("annot.print");
    CHECK(f.level == Level::note);
    CHECK_THAT(f.message, Contains("1 annotation that prints brings no picture of itself") && Contains("leaves it out"));
  }
  SECTION("words that would be lost hold the page") {
    page.annotation("/Type /Annot /Subtype /FreeText /Rect [0 0 9 9] /F 4 /Contents (size L)")
        .annotation("/Type /Annot /Subtype /Stamp /Rect [0 0 9 9] /F 4");
    auto const f = page_of(pdf).finding("annot.print");
    CHECK(f.level == Level::hold);
    CHECK(number(f.measured, "count") == 2);
    CHECK_THAT(f.message, Contains("2 annotations that print show words") && Contains("--accept annot.print"));
  }
}
