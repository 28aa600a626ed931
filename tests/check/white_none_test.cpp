// white.none: a plate that is asked for and comes out empty (our own).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.none tells a plate with nothing on it") {
  std::string const dark = "0.1 0 0.1 rg 100 100 200 200 re f ", light = "1 0.9 0.2 rg 350 100 100 100 re f ";
  CHECK(PlatedPage(dark, {.from = PlateFrom::light}).reported("white.none").size() == 1);
  CHECK(PlatedPage(dark + light, {.from = PlateFrom::light}).reported("white.none").empty());
  CHECK(PlatedPage(dark, {.from = PlateFrom::own}).reported("white.none").size() == 1);
  CHECK(PlatedPage(dark + "1 1 1 rg 120 120 50 50 re f ", {.from = PlateFrom::own}).reported("white.none").empty());
  CHECK(PlatedPage(dark).reported("white.none").empty());
}

TEST_CASE("white.none says nothing of a page without ink, and leaves what is too thin to white.thin") {
  CHECK(PlatedPage("").reported("white.none").empty());
  PlatedPage const thin("0.8 0.1 0.1 rg 100 100 200 0.5 re f ", kBarePlate);
  CHECK(thin.reported("white.none").empty());
  CHECK(thin.reported("white.thin").size() == 1);
}
