// Placement rules one by one. Expected matrices are computed by hand from DESIGN section 3 rules 5 to 8; the sheet 8.5 x 17 in and
// its quarter-inch margin are common practice, no published source (612 x 1224 pt, live area 18,18 to 594,1206).
#include "place/place.h"

#include <catch2/catch.hpp>

using namespace layright;

namespace {

using Scale = PlacementOptions::Scale;
using Catch::Matchers::Contains;

Sheet narrow() { return Sheet{}; }
Sheet uneven() {  // margins 10, 20, 30, 40 pt: left, bottom, right, top
  Sheet s;
  s.margins = {Length::points(10), Length::points(20), Length::points(30), Length::points(40)};
  return s;
}

PlaceSubject subject(Rect<SeenSpace> page, std::optional<Rect<SeenSpace>> ink) { return {ink, page, page}; }

Placement placed(PlaceSubject const& s, Sheet const& sheet, PlacementOptions const& options, bool reverse = false, bool later = false) {
  auto const result = place(s, sheet, options, reverse, later, Unit::inch);
  if (auto const* refusal = std::get_if<PlaceRefusal>(&result)) FAIL(refusal->message);
  return std::get<Placement>(result);
}
PlaceRefusal refused(PlaceSubject const& s, Sheet const& sheet, PlacementOptions const& options, bool later = false, Unit unit = Unit::inch) {
  auto const result = place(s, sheet, options, false, later, unit);
  REQUIRE(std::holds_alternative<PlaceRefusal>(result));
  return std::get<PlaceRefusal>(result);
}
void same(Rect<SheetSpace> const& r, Rect<SheetSpace> const& e) {
  CHECK_THAT(r.x0, Catch::WithinAbs(e.x0, 1e-6));
  CHECK_THAT(r.y0, Catch::WithinAbs(e.y0, 1e-6));
  CHECK_THAT(r.x1, Catch::WithinAbs(e.x1, 1e-6));
  CHECK_THAT(r.y1, Catch::WithinAbs(e.y1, 1e-6));
}
Matrix<SeenSpace, SheetSpace> const kIdentity;

}  // namespace

TEST_CASE("the example of the contract: letter art is centred and reversed") {
  // DESIGN section 5: ink [36 40 500 700], reversed, gives [-1 0 0 1 574 242] and ink on the sheet [74 282 538 942].
  auto const p = placed(subject({0, 0, 612, 792}, Rect<SeenSpace>{36, 40, 500, 700}), narrow(), {}, true);
  CHECK(p.matrix == Matrix<SeenSpace, SheetSpace>{-1, 0, 0, 1, 574, 242});
  CHECK(p.scale == 1);
  CHECK(p.turn == Turn::none);
  CHECK(p.reversed);
  same(*p.ink, {74, 282, 538, 942});
}

TEST_CASE("a page that already lies right gives exactly the identity") {
  Rect<SeenSpace> const page{0, 0, 612, 1224};
  PlacementOptions options;
  SECTION("ink centred on the live area") {
    CHECK(placed(subject(page, Rect<SeenSpace>{106, 112, 506, 1112}), narrow(), options).matrix == kIdentity);
  }
  SECTION("with noise below a millionth of a point") {
    CHECK(placed(subject(page, Rect<SeenSpace>{106 + 4e-7, 112, 506 + 4e-7, 1112}), narrow(), options).matrix == kIdentity);
  }
  SECTION("ink that fills the live area, fitted") {
    options.scale = Scale::fit;
    CHECK(placed(subject(page, Rect<SeenSpace>{18, 18, 594, 1206 - 1e-7}), narrow(), options).matrix == kIdentity);
  }
  SECTION("by its page, wherever its ink lies, at every anchor and with uneven margins") {
    options.by = PlaceBy::page;
    options.at = GENERATE(Anchor::centre, Anchor::top, Anchor::bottom, Anchor::left, Anchor::right, Anchor::top_left, Anchor::top_right,
                          Anchor::bottom_left, Anchor::bottom_right);
    CHECK(placed(subject(page, Rect<SeenSpace>{50, 60, 90, 80}), narrow(), options).matrix == kIdentity);
    CHECK(placed(subject(page, Rect<SeenSpace>{50, 60, 90, 80}), uneven(), options).matrix == kIdentity);
  }
  SECTION("a blank page") {
    CHECK(placed(subject(page, std::nullopt), uneven(), options).matrix == kIdentity);
    CHECK_FALSE(placed(subject(page, std::nullopt), uneven(), options).ink);
  }
}

TEST_CASE("anchors put ink against the live area") {
  struct Row {
    Anchor at;
    double x, y;
  };
  auto const row = GENERATE(values<Row>({{Anchor::centre, 252, 587},
                                         {Anchor::top, 252, 1134},
                                         {Anchor::bottom, 252, 20 + 20},
                                         {Anchor::left, 10, 587},
                                         {Anchor::right, 482, 587},
                                         {Anchor::top_left, 10, 1134},
                                         {Anchor::top_right, 482, 1134},
                                         {Anchor::bottom_left, 10, 40},
                                         {Anchor::bottom_right, 482, 40}}));
  // Live area of the uneven sheet: 10,20 to 582,1184; ink 100 x 50. x: 10, (10+582)/2-50 = 246, 482; y: 20, 577, 1134.
  PlacementOptions options;
  options.at = row.at;
  auto const p = placed(subject({0, 0, 300, 300}, Rect<SeenSpace>{7, 9, 107, 59}), uneven(), options);
  double const x = row.x == 252 ? 246 : row.x, y = row.y == 587 ? 577 : row.y == 40 ? 20 : row.y;
  same(*p.ink, {x, y, x + 100, y + 50});
}

// Worked by hand: a mirror shows a turn the other way, so the printed sheet is turned as asked where the file is turned back as far.
TEST_CASE("where somebody reverses later, a turn is the printed sheet's") {
  PlaceSubject const art = subject({0, 0, 300, 300}, Rect<SeenSpace>{100, 100, 200, 150});
  PlacementOptions options;
  for (auto const& [asked, of_file] :
       {std::pair{Turn::none, Turn::none}, {Turn::quarter, Turn::three_quarters}, {Turn::half, Turn::half}, {Turn::three_quarters, Turn::quarter}}) {
    options.turn = asked;
    auto const now = placed(art, uneven(), options), later = placed(art, uneven(), options, false, true);
    CHECK(now.turn == asked);
    CHECK(later.turn == of_file);
    CHECK(later.reversed_later);
    // Mirrored as the press mirrors it, the later one shows what one that reverses the art itself shows.
    auto const itself = placed(art, uneven(), options, true);
    auto const p = later.matrix.apply(Point<SeenSpace>{100, 150}), q = itself.matrix.apply(Point<SeenSpace>{100, 150});
    CHECK(std::abs(612 - p.x - q.x) + std::abs(p.y - q.y) < 1e-6);
  }
}

TEST_CASE("where somebody reverses later, at, offset and margins are mirrored") {
  PlacementOptions options;
  options.at = Anchor::top_left;
  options.offset_x = Length::points(5);
  options.offset_y = Length::points(-7);
  auto const s = subject({0, 0, 300, 300}, Rect<SeenSpace>{0, 0, 100, 50});
  auto const now = placed(s, uneven(), options), later = placed(s, uneven(), options, false, true);
  same(*now.ink, {15, 1127, 115, 1177});
  same(*later.ink, {612 - 115, 1127, 612 - 15, 1177});  // reflected across x = 306
  CHECK(live_area_of_file(uneven(), true) == Rect<SheetSpace>{30, 20, 602, 1184});
  CHECK(live_area_of_file(uneven(), false) == Rect<SheetSpace>{10, 20, 582, 1184});
}

TEST_CASE("a page smaller than the live area is put against it, a larger one against the sheet, each axis by itself") {
  PlacementOptions options;
  options.by = PlaceBy::page;
  options.at = Anchor::top_left;
  Rect<SeenSpace> const ink{100, 100, 200, 200};
  // Letter page, 612 x 792: as wide as the sheet (put against the sheet), lower than the live area (put against its top, 1184).
  auto const letter = placed(subject({0, 0, 612, 792}, ink), uneven(), options);
  CHECK(letter.matrix == Matrix<SeenSpace, SheetSpace>{1, 0, 0, 1, 0, 392});
  auto const small = placed(subject({0, 0, 400, 400}, ink), uneven(), options);
  CHECK(small.matrix == Matrix<SeenSpace, SheetSpace>{1, 0, 0, 1, 10, 784});
  // Larger than the sheet, but its ink is not: that is enough.
  options.at = Anchor::centre;
  auto const large = placed(subject({0, 0, 812, 1424}, Rect<SeenSpace>{300, 300, 500, 500}), uneven(), options);
  CHECK(large.matrix == Matrix<SeenSpace, SheetSpace>{1, 0, 0, 1, -100, -100});
}

TEST_CASE("turn auto: 0 wherever it fits at a given scale, the larger picture with fit, the smaller of equal turns") {
  PlacementOptions options;
  auto const wide = subject({0, 0, 900, 500}, Rect<SeenSpace>{0, 0, 800, 400});
  auto const fits_both = subject({0, 0, 900, 500}, Rect<SeenSpace>{0, 0, 500, 400});
  CHECK(placed(fits_both, narrow(), options).turn == Turn::none);
  CHECK(placed(wide, narrow(), options).turn == Turn::quarter);
  options.scale = Scale::fit;
  CHECK(placed(fits_both, narrow(), options).turn == Turn::quarter);
  CHECK(placed(subject({0, 0, 9, 9}, Rect<SeenSpace>{1, 1, 8, 8}), narrow(), options).turn == Turn::none);  // a square
  options.scale = Scale::shrink;
  CHECK(placed(fits_both, narrow(), options).turn == Turn::none);
  CHECK(placed(fits_both, narrow(), options).scale == 1);
  options.scale = Scale::percent;
  options.percent = 110;
  CHECK(placed(fits_both, narrow(), options).turn == Turn::none);
  options.percent = 120;  // 600 x 480: too wide at 0
  CHECK(placed(fits_both, narrow(), options).turn == Turn::quarter);
  options = {};
  options.by = PlaceBy::page;  // a sheet that lies the other way is turned, though its little ink would fit unturned
  auto const lying = placed(subject({0, 0, 1224, 612}, Rect<SeenSpace>{600, 300, 620, 310}), narrow(), options);
  CHECK(lying.matrix == Matrix<SeenSpace, SheetSpace>{0, 1, -1, 0, 612, 0});
  options.turn = Turn::three_quarters;
  CHECK(placed(subject({0, 0, 1224, 612}, Rect<SeenSpace>{600, 300, 620, 310}), narrow(), options).turn == Turn::three_quarters);
}

TEST_CASE("the matrix of each turn and reversal, by hand") {
  // Ink 100 x 50 from 10,20; put at bottom-left of a sheet without margins, so its corner comes to 0,0.
  Sheet bare;
  bare.margins = Margins::all(Length());
  PlacementOptions options;
  options.at = Anchor::bottom_left;
  using M = Matrix<SeenSpace, SheetSpace>;
  struct Row {
    Turn turn;
    bool reverse;
    M matrix;
  };
  auto const row = GENERATE(values<Row>({
      {Turn::none, false, {1, 0, 0, 1, -10, -20}},
      {Turn::quarter, false, {0, 1, -1, 0, 70, -10}},  // (x, y) -> (-y, x)
      {Turn::half, false, {-1, 0, 0, -1, 110, 70}},
      {Turn::three_quarters, false, {0, -1, 1, 0, -20, 110}},  // (x, y) -> (y, -x)
      {Turn::none, true, {-1, 0, 0, 1, 110, -20}},
      {Turn::quarter, true, {0, -1, -1, 0, 70, 110}},  // (x, y) -> (-x, y) -> (-y, -x)
      {Turn::half, true, {1, 0, 0, -1, -10, 70}},
      {Turn::three_quarters, true, {0, 1, 1, 0, -20, -10}},
  }));
  options.turn = row.turn;
  auto const p = placed(subject({0, 0, 300, 300}, Rect<SeenSpace>{10, 20, 110, 70}), bare, options, row.reverse);
  CHECK(p.matrix == row.matrix);
  CHECK(p.turn == row.turn);
  for (double const v : {p.matrix.a, p.matrix.b, p.matrix.c, p.matrix.d, p.matrix.e, p.matrix.f}) {
    CHECK_FALSE((v == 0 && std::signbit(v)));  // no "-0" for people to wonder about
  }
}

TEST_CASE("scale: width and height are the rectangle's own, upright as seen") {
  auto s = subject({0, 0, 500, 800}, Rect<SeenSpace>{0, 0, 100, 200});
  s.trim = {0, 0, 200, 250};
  PlacementOptions options;
  options.width = Length::points(50);
  CHECK(placed(s, narrow(), options).scale == 0.5);
  options.turn = Turn::quarter;  // still the width as seen
  CHECK(placed(s, narrow(), options).scale == 0.5);
  options = {};
  options.height = Length::points(400);
  CHECK(placed(s, narrow(), options).scale == 2);
  options.width = Length::points(150);  // both: inside both
  CHECK(placed(s, narrow(), options).scale == 1.5);
  options.by = PlaceBy::trim;
  CHECK(placed(s, narrow(), options).scale == 0.75);
  options.by = PlaceBy::page;
  CHECK(placed(s, narrow(), options).scale == 0.3);
}

TEST_CASE("fit fills the live area with the rectangle that is asked for") {
  PlacementOptions options;
  options.scale = Scale::fit;
  auto s = subject({0, 0, 288, 594}, Rect<SeenSpace>{100, 100, 172, 172});
  s.trim = {72, 72, 216, 369};
  CHECK(placed(s, narrow(), options).scale == 8);  // 576 / 72
  options.by = PlaceBy::trim;
  CHECK(placed(s, narrow(), options).scale == 4);  // 576 / 144 = 1188 / 297
  options.by = PlaceBy::page;
  CHECK(placed(s, narrow(), options).scale == 2);  // 576 / 288 = 1188 / 594
  options.scale = Scale::shrink;
  CHECK(placed(s, narrow(), options).scale == 1);
  options.scale = Scale::fit;
  options.by = PlaceBy::ink;
  s.ink = Rect<SeenSpace>{100, 100, 100, 200};  // a hairline has no width: its height decides
  CHECK(placed(s, narrow(), options).scale == Approx(11.88));
  s.ink = Rect<SeenSpace>{100, 100, 100, 100};  // a dot has no size at all
  CHECK(placed(s, narrow(), options).scale == 1);
}

TEST_CASE("a refusal says by how much, on which axis, and what would fit") {
  PlacementOptions options;
  auto const large = subject({0, 0, 2000, 2000}, Rect<SeenSpace>{0, 0, 600, 1300});
  auto const r = refused(large, narrow(), options);
  CHECK(r.needs.width == 600);
  CHECK(r.needs.height == 1300);
  CHECK(r.largest_scale == Approx(1188.02 / 1300));  // 91.38 %, with the tolerance of 0.01 on both sides
  CHECK_THAT(r.message, Contains("0.333 in too wide") && Contains("1.556 in too high") && Contains("--scale 91.3%") && Contains("8 x 16.5 in"));
  CHECK_THAT(refused(large, narrow(), options, false, Unit::millimetre).message, Contains("8.47 mm too wide"));
  // What is reported does fit, and a hair more does not.
  options.scale = Scale::percent;
  options.percent = 91.3;
  placed(large, narrow(), options);
  options.percent = 91.4;
  refused(large, narrow(), options);

  options = {};
  options.turn = Turn::none;
  CHECK_THAT(refused(subject({0, 0, 900, 500}, Rect<SeenSpace>{0, 0, 800, 400}), narrow(), options).message,
             Contains("turn it by 90 degrees (--turn auto)"));
  options.turn = std::nullopt;
  options.offset_x = Length::points(100);
  CHECK(placed(subject({0, 0, 600, 600}, Rect<SeenSpace>{0, 0, 500, 100}), narrow(), options).turn == Turn::quarter);
  options.turn = Turn::none;
  auto const pushed = refused(subject({0, 0, 600, 600}, Rect<SeenSpace>{0, 0, 500, 100}), narrow(), options);
  CHECK_THAT(pushed.message, Contains("beyond its right side") && Contains("leave out --offset"));
  CHECK(pushed.largest_scale == Approx(376.02 / 500));  // half of 500 s + 100 <= 288 and the tolerance of 0.01
  CHECK_THAT(refused(subject({0, 0, 600, 600}, Rect<SeenSpace>{0, 0, 500, 100}), narrow(), options, true).message,
             Contains("left (on the printed sheet: right)"));
  options = {};
  options.by = PlaceBy::page;
  CHECK_THAT(refused(subject({0, 0, 612, 1224}, Rect<SeenSpace>{9, 100, 100, 200}), narrow(), options).message,
             Contains("placed by its page") && Contains("0.125 in beyond its left side") && Contains("--by ink"));
  options = {};
  options.width = Length::inches(9);
  CHECK_THAT(refused(subject({0, 0, 720, 720}, Rect<SeenSpace>{0, 0, 600, 600}), narrow(), options).message,
             Contains("96%") && Contains("in place of --width"));
  CHECK_THAT(refused(subject({0, 0, 700, 1300}, std::nullopt), narrow(), {}).message, Contains("the blank page"));
}

TEST_CASE("the live area's edge: within the tolerance and just beyond it") {
  PlacementOptions options;
  options.by = PlaceBy::page;
  auto const page = Rect<SeenSpace>{0, 0, 612, 1224};
  // Limits::margin_tolerance is 0.01 pt.
  CHECK_FALSE(placed(subject(page, Rect<SeenSpace>{18 - 0.009, 18, 594, 1206}), narrow(), options).outside);
  refused(subject(page, Rect<SeenSpace>{18 - 0.011, 18, 594, 1206}), narrow(), options);
  refused(subject(page, Rect<SeenSpace>{18, 18, 594.011, 1206}), narrow(), options);
  refused(subject(page, Rect<SeenSpace>{18, 17.989, 594, 1206}), narrow(), options);
  refused(subject(page, Rect<SeenSpace>{18, 18, 594, 1206.011}), narrow(), options);
  // Told in points where the unit would show nothing.
  CHECK_THAT(refused(subject(page, Rect<SeenSpace>{18, 18, 594.02, 1206}), narrow(), options).message, Contains("0.02 pt"));
  options.allow_outside = true;
  CHECK(placed(subject(page, Rect<SeenSpace>{0, 18, 594, 1206}), narrow(), options).outside);
  CHECK(placed(subject(page, Rect<SeenSpace>{0, 18, 594, 1206}), narrow(), options).matrix == kIdentity);
  CHECK_FALSE(placed(subject(page, Rect<SeenSpace>{20, 20, 594, 1206}), narrow(), options).outside);
}

TEST_CASE("nonsense is refused, never placed") {
  double const inf = std::numeric_limits<double>::infinity();
  PlacementOptions options;
  refused(subject({0, 0, inf, 5}, std::nullopt), narrow(), options);
  refused(subject({-1e308, 0, 1e308, 5}, Rect<SeenSpace>{-1e308, 0, 1e308, 5}), narrow(), options);
  refused(subject({0, 0, 5, 5}, Rect<SeenSpace>{0, std::nan(""), 5, 5}), narrow(), options);
  Sheet all_margin;
  all_margin.margins = Margins::all(Length::inches(5));
  CHECK_THAT(refused(subject({0, 0, 5, 5}, std::nullopt), all_margin, options).message, Contains("margins leave nothing"));
  options.scale = Scale::percent;
  options.percent = GENERATE(0.0, -5.0, std::nan(""), std::numeric_limits<double>::infinity());
  refused(subject({0, 0, 5, 5}, Rect<SeenSpace>{0, 0, 5, 5}), narrow(), options);
  options = {};
  options.width = Length::points(10);
  refused(subject({0, 0, 5, 5}, Rect<SeenSpace>{1, 0, 1, 5}), narrow(), options);
}

TEST_CASE("a long-edge sheet lies on its side") {
  Sheet s;
  s.feed = Feed::long_edge;
  PlacementOptions options;
  CHECK(placed(subject({0, 0, 900, 500}, Rect<SeenSpace>{0, 0, 800, 400}), s, options).turn == Turn::none);
  CHECK(placed(subject({0, 0, 500, 900}, Rect<SeenSpace>{0, 0, 400, 800}), s, options).turn == Turn::quarter);
}

TEST_CASE("art that does not go on has the place where it would lie at the size asked for") {
  // 1000 points of ink on a sheet of 612: in the middle, 194 points past either side.
  PlacementOptions options;
  options.turn = Turn::none;
  auto const refusal = refused(subject({0, 0, 1200, 400}, Rect<SeenSpace>{100, 100, 1100, 200}), narrow(), options);
  REQUIRE(refusal.as_asked);
  CHECK(refusal.as_asked->scale == 1);
  same(*refusal.as_asked->ink, {-194, 562, 806, 662});
}
