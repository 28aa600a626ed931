// view.scale: ISO 32000-1, Table 150: PrintScaling, AppDefault unless it is None.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("view.scale is silent only on PrintScaling None") {
  PdfMaker pdf;
  pdf.page();
  SECTION("absent") {
    auto const f = OpenFile(pdf.bytes()).finding("view.scale");
    CHECK(f.level == Level::note);
    CHECK(text(f.wanted, "print_scaling") == "None");
  }
  SECTION("AppDefault, or unknown") {
    pdf.catalog("ViewerPreferences", GENERATE("<< /PrintScaling /AppDefault >>", "<< /PrintScaling /Never >>", "<< >>", "7"));
    CHECK_FALSE(OpenFile(pdf.bytes()).silent("view.scale"));
  }
  SECTION("None") {
    pdf.catalog("ViewerPreferences", "<< /PrintScaling /None >>");
    CHECK(OpenFile(pdf.bytes()).silent("view.scale"));
  }
}
