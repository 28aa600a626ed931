#include "job/job_sheet_pdf.h"

#include <catch2/catch.hpp>

#include "sheet/sizes.h"

using namespace layright;

TEST_CASE("the job sheet is on the paper that the shop has") {
  auto const paper = [](char const* size, Unit unit) {
    auto const sides = parse_size(size);
    REQUIRE(sides);
    Sheet sheet;
    sheet.width = sides->width, sheet.length = sides->length;
    return usual_paper(sheet, unit);
  };
  for (char const* inches : {"8.5x17in", "letter", "tabloid", "super B", "12x18in"}) CHECK(paper(inches, Unit::inch) == JobSheetPaper::letter);
  for (char const* iso : {"A3", "A4", "SRA3", "11.69x16.54in"}) CHECK(paper(iso, Unit::inch) == JobSheetPaper::a4);
  for (char const* any : {"8.5x17in", "A3"}) CHECK(paper(any, Unit::millimetre) == JobSheetPaper::a4);
}
