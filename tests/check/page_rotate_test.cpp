// page.rotate: ISO 32000-1, Table 30: a multiple of 90, clockwise; negative and above 360 are legal.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.rotate: none, quarter turns, whole turns, nonsense") {
  struct Row {
    char const* written;
    std::optional<Level> level;
  };
  auto const row = GENERATE(values<Row>({{"0", std::nullopt},
                                         {"360", std::nullopt},
                                         {"-720", std::nullopt},
                                         {"90", Level::fix},
                                         {"180", Level::fix},
                                         {"270", Level::fix},
                                         {"-90", Level::fix},
                                         {"450", Level::fix},
                                         {"45", Level::hold},
                                         {"89", Level::hold},
                                         {"1", Level::hold},
                                         {"90.5", Level::hold},
                                         {"/Left", Level::hold}}));
  CAPTURE(row.written);
  PdfMaker pdf;
  pdf.page().rotate(row.written);
  auto const v = page_of(pdf);
  if (!row.level) {
    CHECK(v.silent("page.rotate"));
    return;
  }
  auto const f = v.finding("page.rotate");
  CHECK(f.level == *row.level);
  CHECK(number(f.wanted, "rotate_deg") == 0);
  if (*row.level == Level::hold) CHECK_THAT(f.message, Contains(row.written));
}

TEST_CASE("page.rotate tells degrees clockwise, as the file has them") {
  PdfMaker pdf;
  pdf.page().rotate("-90");
  auto const f = page_of(pdf).finding("page.rotate");
  CHECK(number(f.measured, "rotate_deg") == 270);
  CHECK_THAT(f.message, Contains("270 degrees clockwise") && Contains("`lay`"));
}

TEST_CASE("page.rotate: an inherited turn counts") {
  PdfMaker pdf;
  pdf.inherited("Rotate", "90").page();
  CHECK_FALSE(page_of(pdf).silent("page.rotate"));
}
