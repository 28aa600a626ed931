// white.twice: the plate in the file and the driver's own white (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.twice holds where the driver lays white as well") {
  PlatedPage page(kBlock);
  CHECK(page.reported("white.twice").empty());
  page.target.white.on = true;
  auto const reported = page.reported("white.twice");
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].level == Level::hold);
  page.target.plate.from = PlateFrom::off;
  CHECK(page.reported("white.twice").empty());
}

TEST_CASE("white.twice holds art with white of its own where the plate lies apart from it") {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "W", "[/Separation /White /DeviceCMYK <</FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 0] /N 1>>]")
      .content("0.8 0.1 0.1 rg 100 100 200 200 re f /W cs 1 scn 350 100 50 50 re f");
  PlatedPage page(pdf, {.from = PlateFrom::all});
  CHECK(page.reported("white.twice").empty());
  page.target.plate.as = PlateAs::file;
  REQUIRE(page.reported("white.twice").size() == 1);
  CHECK(page.reported("white.twice")[0].level == Level::hold);
  PlatedPage plain(kBlock, {.from = PlateFrom::all, .as = PlateAs::page});
  CHECK(plain.reported("white.twice").empty());
}
