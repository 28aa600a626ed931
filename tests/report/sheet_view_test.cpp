// Where art comes to lie in the picture of its sheet, worked out by hand.
#include "report/sheet_view.h"

#include <catch2/catch.hpp>

#include "support/press_target.h"

using namespace layright;

namespace {

using OnSheet = Matrix<SeenSpace, SheetSpace>;

}  // namespace

TEST_CASE("art that stays on the sheet is shown on the sheet alone") {
  auto const target = film_target(8.5, 17);
  auto const view = sheet_view(target, {200, 300}, Rect<SeenSpace>{10, 10, 190, 290}, OnSheet{1, 0, 0, 1, 100, 400});
  CHECK(view.frame == target.sheet.page());
  CHECK(view.ink == Rect<SheetSpace>{110, 410, 290, 690});
  CHECK(view.whole);
  CHECK(past_edges(view, target.sheet, Unit::inch).empty());
}

TEST_CASE("art larger than the sheet is shown at its true size, and told by how much it passes") {
  auto const target = film_target(8.5, 17);  // 612 x 1224 points
  auto const view = sheet_view(target, {756, 1000}, Rect<SeenSpace>{0, 0, 756, 1000}, OnSheet{1, 0, 0, 1, -72, 300});
  CHECK(view.ink.width() == 756);
  CHECK(view.frame == Rect<SheetSpace>{-72, 0, 684, 1300});
  CHECK(view.whole);
  CHECK(past_edges(view, target.sheet, Unit::inch) == "1 in past the left and right, 1.06 in past the top");
  CHECK(past_edges(view, target.sheet, Unit::millimetre) == "25.4 mm past the left and right, 26.8 mm past the top");
}

TEST_CASE("art many times as large as the sheet is cut off in the picture, never made smaller") {
  auto const target = film_target(8.5, 17);
  auto const view = sheet_view(target, {20000, 20000}, std::nullopt, std::nullopt);
  CHECK(view.ink.width() == 20000);
  CHECK_FALSE(view.whole);
  CHECK(view.frame.height() == kMostSheetsShown * 1224);
}

TEST_CASE("what cannot be placed lies in the middle as large as it came") {
  auto const view = sheet_view(film_target(8.5, 17), {1000, 100}, std::nullopt, std::nullopt);
  CHECK(view.ink == Rect<SheetSpace>{-194, 562, 806, 662});
}

TEST_CASE("whoever reverses after the file is counted in") {
  auto target = film_target(8.5, 17);
  target.reading = WantedReading::wrong;
  target.reverse_at = ReverseAt::printer;
  auto const view = sheet_view(target, {100, 100}, std::nullopt, OnSheet{1, 0, 0, 1, 0, 0});
  CHECK(view.ink == Rect<SheetSpace>{512, 0, 612, 100});
}

TEST_CASE("places are told from the sheet's left and bottom edge") {
  CHECK(place_words({72, 144, 108, 144}, Unit::inch) == "1 to 1.5 in from the left, 2 in from the bottom");
  CHECK(place_words({0, 72, 36, 144}, Unit::millimetre) == "0 to 12.7 mm from the left, 25.4 to 50.8 mm from the bottom");
}
