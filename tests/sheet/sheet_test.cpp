#include "sheet/sheet.h"

#include <catch2/catch.hpp>

using namespace layright;
using Catch::Matchers::Contains;

TEST_CASE("the edge that feeds first lies horizontal") {
  Sheet sheet;
  CHECK(sheet.page() == Rect<SheetSpace>{0, 0, 612, 1224});
  sheet.feed = Feed::long_edge;
  CHECK(sheet.page() == Rect<SheetSpace>{0, 0, 1224, 612});
}

TEST_CASE("the live area is the page less its margins, each on its own edge") {
  Sheet sheet;
  CHECK(sheet.live_area() == Rect<SheetSpace>{18, 18, 594, 1206});
  sheet.margins = {Length::points(1), Length::points(2), Length::points(3), Length::points(4)};
  CHECK(sheet.live_area() == Rect<SheetSpace>{1, 2, 609, 1220});
  sheet.feed = Feed::long_edge;
  CHECK(sheet.live_area() == Rect<SheetSpace>{1, 2, 1221, 608});
}

TEST_CASE("margins must leave room for ink") {
  Sheet sheet;
  CHECK(check_margins(sheet, Unit::inch));
  sheet.margins = Margins::all(Length());
  CHECK(check_margins(sheet, Unit::inch));
  sheet.margins = Margins::all(Length::inches(4.24));
  CHECK(check_margins(sheet, Unit::inch));
  sheet.margins = Margins::all(Length::inches(4.25));
  CHECK_THAT(check_margins(sheet, Unit::inch).error().message, Contains("left and right margins take 8.5 in of 8.5 in"));
  CHECK_THAT(check_margins(sheet, Unit::millimetre).error().message, Contains("215.9 mm of 215.9 mm"));
  sheet.margins = {Length(), Length::inches(10), Length(), Length::inches(8)};
  CHECK_THAT(check_margins(sheet, Unit::inch).error().message, Contains("bottom and top margins take 18 in of 17 in"));
  sheet.margins = Margins::all(Length::inches(-0.25));
  CHECK_THAT(check_margins(sheet, Unit::inch).error().message, Contains("-0.25 in is below zero"));
}
