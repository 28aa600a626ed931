// What toner costs: worked out by hand. A cartridge of 70 for 7000 pages of A4 at 5 % costs 0.01 for what covers 5 % of an A4 page.
#include "report/toner_cost.h"

#include <catch2/catch.hpp>

#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

namespace {

constexpr SeenSize kA4{210 * 72 / 25.4, 297 * 72 / 25.4};

Target priced(bool white = false) {
  Target t;
  t.sheet.width = Length::points(612);
  t.sheet.length = Length::points(1224);
  t.press.currency = "EUR";
  t.press.prints_white = white;
  t.press.toner = {{"Black", {70, 7000, 5}}, {"White", {100, 5000, 5}}};
  return t;
}

PageToner of(std::vector<InkCoverage> inks, double painted = 0, double paper_white = 0) { return {std::move(inks), painted, paper_white}; }

double cost(Target const& target, PageToner const& toner, double scale = 1) { return toner_cost(target, toner, kA4, scale).cost; }

/// An A4 page, drawn.
PageToner drawn(std::string const& content, std::vector<std::string> const& own, std::string const& rotate = "0") {
  PdfMaker pdf;
  pdf.page()
      .media("[0 0 595.2756 841.8898]")
      .rotate(rotate)
      .use("ColorSpace", "F", separation("Fern"))
      .use("ColorSpace", "W", separation("White"))
      .content(content);
  ArtPage const page(pdf);
  auto const toner = page.reader->toner(page.page, own);
  REQUIRE(toner);
  return *toner;
}

double coverage(PageToner const& toner, std::string const& name) {
  for (auto const& ink : toner.inks)
    if (ink.name == name) return ink.coverage_pct;
  return 0;
}

}  // namespace

TEST_CASE("toner costs its price for each rated page, by coverage and by the square of the scale", "[toner]") {
  CHECK(cost(priced(), of({{"Black", 5}})) == Approx(0.01));
  CHECK(cost(priced(), of({{"Black", 50}})) == Approx(0.1));
  CHECK(cost(priced(), of({{"Black", 50}}), 0.5) == Approx(0.025));
  auto target = priced();
  target.press.toner["Black"].coverage_pct = 20;  // rated for darker pages: a quarter as dear
  CHECK(cost(target, of({{"Black", 50}})) == Approx(0.025));
  CHECK(cost(priced(), of({})) == 0);
  auto const reported = toner_cost(priced(), of({{"Cyan", 10}, {"Magenta", 0}, {"Black", 50}}), kA4, 1);
  CHECK(reported.cost == Approx(0.1));
  REQUIRE(reported.inks.size() == 2);
  CHECK(reported.inks[0].ink == "Cyan");
  CHECK_FALSE(reported.inks[0].cost);
  CHECK(reported.inks[1].coverage_pct == Approx(50 * 210 * 297 / (215.9 * 431.8)));  // of the sheet, in millimetres
  CHECK(without_price(reported) == std::vector<std::string>{"Cyan"});
  CHECK(toner_words(0.1, "EUR", {"Cyan"}) == "about 0.1 EUR, without Cyan, whose price is not set");
  CHECK(toner_words(12.3456, "", {}) == "about 12.35");
}

TEST_CASE("white costs where the press lays it: under all art, by the file's plate, or as paint", "[toner]") {
  auto target = priced(true);
  CHECK(cost(target, of({{"Black", 0}}, 20, 4)) == Approx(0.02 * 4 / 5));  // no layer asked for: white paint alone
  CHECK(cost(target, of({{"White", 10}}, 20, 4)) == Approx(0.02 * 14 / 5));
  target.white = {true, 150};
  CHECK(cost(target, of({{"Black", 0}}, 20, 4)) == Approx(0.02 * 30 / 5));   // 150 % of 20 %
  CHECK(cost(target, of({{"White", 10}}, 20, 4)) == Approx(0.02 * 15 / 5));  // of the plate
  target.white.percent.reset();
  CHECK(cost(target, of({}, 20, 4)) == Approx(0.02 * 20 / 5));
  target.press.prints_white = false;
  CHECK(cost(target, of({{"Black", 5}}, 20, 4)) == Approx(0.01));
  CHECK(own_toners(target) == std::vector<std::string>{"Black", "White"});
}

TEST_CASE("toner is measured on a drawing, whichever way the page is turned, and each colour in the toners that there are", "[toner]") {
  for (auto const* rotate : {"0", "90", "180"}) {
    auto const half = drawn("0 0 0 1 k 0 0 297.6378 841.8898 re f", {}, rotate);
    CHECK(coverage(half, "Black") == Approx(50).margin(0.3));
    CHECK(half.painted_pct == Approx(50).margin(0.3));
    CHECK(cost(priced(), half) == Approx(0.1).margin(0.001));
  }
  // Fern is magenta (separations.h) where it has no toner of its own.
  auto const art = "/F cs 0.5 sc 0 0 297.6378 841.8898 re f";
  auto const process = drawn(art, {"White"}), spot = drawn(art, {"White", "Fern"});
  CHECK(coverage(process, "Fern") == 0);
  CHECK(coverage(process, "Magenta") == Approx(25).margin(0.3));
  CHECK(coverage(spot, "Fern") == Approx(25).margin(0.3));
  CHECK(coverage(spot, "Magenta") == 0);
  auto const white = drawn("0 0 0 1 k 0 0 297.6378 841.8898 re f 1 g 0 0 297.6378 420.9449 re f /W cs 1 sc 300 0 100 84.18898 re f", {"White"});
  CHECK(coverage(white, "Black") == Approx(25).margin(0.3));
  CHECK(coverage(white, "White") == Approx(100.0 * 100 * 84.18898 / (595.2756 * 841.8898)).margin(0.1));
  CHECK(white.paper_white_pct == Approx(25).margin(0.5));
}

TEST_CASE("the white plate that is made from the art costs by its area", "[toner]") {
  auto target = priced(true);
  target.plate.from = PlateFrom::all;
  double const page = kA4.width * kA4.height;
  CHECK(toner_cost(target, of({}, 20, 4), kA4, 1, page * 0.18).cost == Approx(0.02 * 18 / 5));
  CHECK(toner_cost(target, of({}, 20, 4), kA4, 0.5, page * 0.18 / 4).cost == Approx(0.02 * 18 / 5 / 4));
  CHECK(toner_cost(target, of({{"White", 25}}, 20, 4), kA4, 1, page * 0.18).cost == Approx(0.02 * 25 / 5));
  CHECK(cost(target, of({}, 20, 4)) == Approx(0.02 * 20 / 5));  // not made yet: all that is painted
  target.plate.from = PlateFrom::own;
  CHECK(cost(target, of({}, 20, 4)) == Approx(0.02 * 4 / 5));
}
