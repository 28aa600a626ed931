// page.unit: ISO 32000-1, Table 30: UserUnit, default 1, not inherited.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.unit fires when a unit is not a point") {
  PdfMaker pdf;
  auto& page = pdf.page();
  SECTION("absent") { CHECK(page_of(pdf).silent("page.unit")); }
  SECTION("1") {
    page.user_unit("1");
    CHECK(page_of(pdf).silent("page.unit"));
  }
  SECTION("1.0") {
    page.user_unit("1.0");
    CHECK(page_of(pdf).silent("page.unit"));
  }
  SECTION("not inherited") {
    pdf.inherited("UserUnit", "2");
    CHECK(page_of(pdf).silent("page.unit"));
  }
  SECTION("no number above 0 is a matter of page.boxes") {
    page.user_unit(GENERATE("0", "-2", "/Two"));
    CHECK(page_of(pdf).silent("page.unit"));
    CHECK_FALSE(page_of(pdf).silent("page.boxes"));
  }
  SECTION("others") {
    auto const unit = GENERATE("2", "0.5", "1.001", "10");
    page.user_unit(unit);
    auto const f = page_of(pdf).finding("page.unit");
    CHECK(f.level == Level::fix);
    CHECK(number(f.measured, "user_unit_pt") == Approx(std::stod(unit)));
    CHECK_THAT(f.message, Contains(unit) && Contains("`lay`"));
  }
}
