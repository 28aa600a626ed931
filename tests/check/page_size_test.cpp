// page.size: W x L within 0.5 pt either way round, of what is seen. Expected values are computed by hand from DESIGN section 6.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.size is silent within half a point, either way round, and fires beyond it") {
  struct Row {
    double w, h;
    bool fires;
  };
  auto const row = GENERATE(values<Row>({{612, 1224, false},
                                         {612.5, 1224, false},
                                         {611.5, 1223.5, false},
                                         {612.51, 1224, true},
                                         {611.49, 1224, true},
                                         {612, 1224.51, true},
                                         {612, 1223.49, true},
                                         {612.5, 1224.5, false},
                                         {1224, 612, false},
                                         {1224.5, 611.5, false},
                                         {1224.51, 612, true},
                                         {612, 612, true},
                                         {1224, 1224, true},
                                         {612, 792, true}}));
  CAPTURE(row.w, row.h);
  CHECK(View().sized(row.w, row.h).silent("page.size") == !row.fires);
}

TEST_CASE("page.size says what, by how much and what fixes it") {
  View v;
  auto const f = v.sized(612, 792).finding("page.size");
  CHECK(f.level == Level::fix);
  CHECK_THAT(f.message, Contains("8.5 x 11 in") && Contains("6 in too short") && Contains("8.5 x 17 in") && Contains("`lay`"));
  CHECK(f.where == Rect<SeenSpace>{0, 0, 612, 792});
  // The figures of the contract's example, DESIGN section 5.
  CHECK(number(f.measured, "width_pt") == 612);
  CHECK(number(f.measured, "height_pt") == 792);
  CHECK(number(f.wanted, "width_pt") == 612);
  CHECK(number(f.wanted, "height_pt") == 1224);
  v.unit = Unit::millimetre;
  CHECK_THAT(v.finding("page.size").message, Contains("152.4 mm too short"));
  CHECK_THAT(View().sized(792, 612).finding("page.size").message, Contains("6 in too short") && Contains("turned to lie"));
  CHECK_THAT(View().sized(612, 1224.6).finding("page.size").message, Contains("0.008 in too long"));
}

TEST_CASE("page.size goes by what is seen: crop, Rotate and UserUnit") {
  PdfMaker pdf;
  auto& page = pdf.page();
  SECTION("the crop box makes the sheet's size, wherever its origin lies") {
    auto const origin = GENERATE(-500, 0, 333);
    page.media("[-900 -900 2000 2000]")
        .crop("[" + std::to_string(origin) + " " + std::to_string(origin) + " " + std::to_string(origin + 612) + " " + std::to_string(origin + 1224) +
              "]");
    CHECK(page_of(pdf).silent("page.size"));
  }
  SECTION("the media box has the size, but the crop box does not") {
    page.media("[0 0 612 1224]").crop("[0 0 612 1200]");
    CHECK_THAT(page_of(pdf).finding("page.size").message, Contains("0.333 in too short"));
  }
  SECTION("UserUnit 2 doubles") {
    page.media("[0 0 306 612]").user_unit("2");
    CHECK(page_of(pdf).silent("page.size"));
  }
  SECTION("UserUnit 2 on a page whose numbers are the sheet's") {
    page.media("[0 0 612 1224]").user_unit("2");
    CHECK_FALSE(page_of(pdf).silent("page.size"));
  }
  SECTION("Rotate does not change whether the size is right") {
    page.media("[0 0 612 1224]").rotate(GENERATE("0", "90", "180", "270", "-90", "450"));
    CHECK(page_of(pdf).silent("page.size"));
  }
  SECTION("a Rotate of 45 leaves nothing to measure") {
    page.media("[0 0 100 100]").rotate("45");
    CHECK(page_of(pdf).silent("page.size"));
  }
}

TEST_CASE("page.size: another sheet, another tolerance") {
  View v;
  v.target.sheet.width = Length::inches(12.5);
  v.target.sheet.length = Length::inches(19);
  CHECK_FALSE(v.silent("page.size"));
  CHECK(v.sized(900, 1368).silent("page.size"));
  CHECK_FALSE(v.sized(902, 1368).silent("page.size"));
  v.target.limits.size_tolerance = Length::points(2);
  CHECK(v.silent("page.size"));
}
