#include "gang/gang.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <random>

#include "gang/gang_judge.h"

namespace layright {
namespace {

using test::parted_by_straight_cuts;
using test::what_is_wrong;

std::vector<GangPiece> random_pieces(std::mt19937& random, int count, double least, double most, PieceTurns turns) {
  std::uniform_real_distribution<double> side(least, most);
  std::vector<GangPiece> pieces;
  for (int i = 0; i < count; ++i) pieces.push_back({side(random), side(random), turns});
  return pieces;
}

TEST_CASE("pieces keep their gap, the margin, and straight cuts part them", "[long]") {
  auto const cuts = GENERATE(Cuts::straight, Cuts::free);
  auto const turns = GENERATE(PieceTurns::none, PieceTurns::quarter, PieceTurns::any);
  auto const gap = GENERATE(0.0, 18.0, 7.3);
  auto const count = GENERATE(1, 2, 9, 60);
  std::mt19937 random(static_cast<unsigned>(count * 7 + gap * 100));
  auto const pieces = random_pieces(random, count, 20, 500, turns);
  GangRules const rules{576, 1188, gap, cuts, 60};
  auto const layout = arrange_gang(pieces, rules);
  REQUIRE(layout);
  CHECK(what_is_wrong(pieces, rules, *layout) == "");
  CHECK(layout->bound >= 1);
  CHECK(layout->bound <= layout->sheets);
  if (cuts == Cuts::straight) CHECK(parted_by_straight_cuts(pieces, *layout));
}

TEST_CASE("the judge sees what is wrong") {
  GangRules const rules{100, 100, 5};
  std::vector<GangPiece> const two{{40, 40, PieceTurns::none}, {40, 20}};
  auto const wrong = [&](GangSlot a, GangSlot b) { return !what_is_wrong(two, rules, {1, 1, {a, b}}).empty(); };
  CHECK_FALSE(wrong({0, 0, 0, 0}, {1, 0, 45, 0}));
  CHECK(wrong({0, 0, 0, 0}, {1, 0, 44.9, 0}));
  CHECK(wrong({0, 0, 0, 0}, {1, 0, 60.1, 50}));
  CHECK(wrong({0, 0, 0, 0, Turn::quarter}, {1, 0, 45, 0}));
  CHECK(wrong({0, 0, 0, 0}, {1, 1, 0, 0}));
  // Five boxes round a middle one (worked out by hand): no cut runs through.
  CHECK_FALSE(parted_by_straight_cuts({{0, 0, 2, 1}, {2, 0, 3, 2}, {1, 2, 3, 3}, {0, 1, 1, 3}, {1, 1, 2, 2}}));
  CHECK(parted_by_straight_cuts({{0, 0, 2, 1}, {2, 0, 3, 2}, {0, 2, 3, 3}}));
}

TEST_CASE("a piece as large as the live area takes a sheet, one larger fits none") {
  GangRules const rules{576, 1188, 18};
  auto const layout = arrange_gang({{576, 1188}, {576, 1188}, {10, 10}}, rules);
  REQUIRE(layout);
  CHECK(layout->sheets == 3);
  CHECK(layout->bound == 3);
  CHECK(arrange_gang({{1188, 576}}, rules)->slots[0].turn == Turn::quarter);
  CHECK_FALSE(arrange_gang({{1188, 576, PieceTurns::none}}, rules));
  CHECK_FALSE(arrange_gang({{576.02, 1188}}, rules));
  CHECK(arrange_gang({{576.005, 1188}}, rules));  // arithmetic noise, as lay allows it
  CHECK(arrange_gang({}, rules)->sheets == 0);
}

TEST_CASE("a thousand copies need the sheets that they need") {
  // 4 x 8 boxes of 126 x 130.5 with 18 between fit 576 x 1188 exactly (worked out by hand): 32 a sheet.
  std::vector<GangPiece> const pieces(1000, GangPiece{130.5, 126});
  auto const layout = arrange_gang(pieces, {576, 1188, 18, Cuts::straight});
  REQUIRE(layout);
  CHECK(layout->sheets == 32);
  CHECK(layout->bound >= 31);
  CHECK(what_is_wrong(pieces, {576, 1188, 18}, *layout) == "");
}

TEST_CASE("pieces that fill a sheet in rows and columns are laid on one", "[long]") {
  // As many as the sheet has rooms, each as large as a room or up to a fiftieth smaller; such as are nearly square and may turn tempt to mix.
  auto const cuts = GENERATE(Cuts::straight, Cuts::free);
  auto const turns = GENERATE(PieceTurns::none, PieceTurns::quarter);
  auto const smaller = GENERATE(0.0, 0.02);
  auto const gap = GENERATE(0.0, 18.0);
  std::mt19937 random(static_cast<unsigned>(gap + 100 * smaller) + (turns == PieceTurns::none ? 3U : 5U));
  std::uniform_real_distribution<double> part(1 - smaller, 1);
  GangRules const rules{576, 1188, gap, cuts, 300};
  int missed = 0;
  for (int columns = 1; columns <= 8; ++columns)
    for (int rows = columns; rows <= 12; rows += 1 + columns / 3) {
      auto const side = [&](double room, int parts) { return std::floor(((room + gap) / parts - gap) * 1000) / 1000; };
      double const w = side(rules.width, columns), h = side(rules.height, rows);
      std::vector<GangPiece> pieces;
      for (int i = 0; i < columns * rows; ++i) {
        GangPiece piece{w * part(random), h * part(random), turns};
        if (turns != PieceTurns::none && random() % 2 == 0) std::swap(piece.width, piece.height);
        pieces.push_back(piece);
      }
      auto const layout = arrange_gang(pieces, rules);
      REQUIRE(layout);
      CHECK(layout->bound == 1);
      if (layout->sheets != 1) ++missed;
      UNSCOPED_INFO(columns << " x " << rows << ": " << layout->sheets);
    }
  CHECK(missed == 0);
}

TEST_CASE("the same pieces always come to lie in the same places") {
  std::mt19937 random(4);
  auto const pieces = random_pieces(random, 80, 40, 300, PieceTurns::quarter);
  GangRules const rules{576, 1188, 18, Cuts::free};
  CHECK(arrange_gang(pieces, rules)->slots == arrange_gang(pieces, rules)->slots);
}

TEST_CASE("what is left of the last sheet is one block") {
  std::vector<GangPiece> const pieces{{500, 1100}, {100, 100}, {200, 50}, {300, 80}};
  GangRules const rules{576, 1188, 18, Cuts::straight};
  auto const layout = arrange_gang(pieces, rules);
  REQUIRE(layout);
  CHECK(layout->sheets == 2);
  double top = 0;
  for (auto const& slot : layout->slots)
    if (slot.sheet == 1) top = std::max(top, test::laid_box(pieces[slot.piece], slot).y1);
  CHECK(top <= 198);  // 80 and 100 and the gap between (worked out by hand), in the worst order
}

// The 500 published instances, ten classes: I to VI by J. O. Berkey, P. Y. Wang, "Two-dimensional finite bin-packing algorithms", J. Oper. Res.
// Soc. 38(5), 1987, VII to X by S. Martello, D. Vigo, "Exact solution of the two-dimensional finite bin packing problem", Manage. Sci. 44(3), 1998;
// drawn by the generator that A. Lodi, S. Martello and D. Vigo published with "Heuristic and metaheuristic approaches for a class of two-dimensional
// bin packing problems", INFORMS J. Comput. 11(4), 1999: its numbers, its single precision, and the height of each piece before its width.
struct Instance {
  double sheet;
  std::vector<GangPiece> pieces;
};

class PublishedDraw {
 public:
  /// Of instance `number`, from 1, of those with so many pieces.
  PublishedDraw(int pieces, int number) {
    auto const seed = static_cast<float>(pieces * number) * 31.47F + 2000.0F;
    for (int i = 0; i <= static_cast<int>(seed); ++i) next();
  }
  float next() {
    value_ = (value_ * 7141 + 54773) % 259200;
    return static_cast<float>(value_) / 259200.0F;
  }
  double within(int low, int high) { return low + static_cast<int>(static_cast<float>(high - low + 1) * next()); }

 private:
  int value_ = 0;
};

Instance published_instance(std::size_t c, int count, int number) {
  constexpr std::array kSheet{10.0, 30.0, 40.0, 100.0, 100.0, 300.0, 100.0, 100.0, 100.0, 100.0};
  constexpr std::array kLargest{10, 10, 35, 35, 100, 100};
  PublishedDraw draw(count, number);
  Instance one{kSheet[c], {}};
  for (int i = 0; i < count; ++i) {
    if (c < kLargest.size()) {
      double const h = draw.within(1, kLargest[c]);
      one.pieces.push_back({draw.within(1, kLargest[c]), h});
      continue;
    }
    // Seven of ten of the class's own kind: wide, high, large, small; of the others one each.
    std::size_t const own = c - kLargest.size();
    std::array<float, 3> part{0.1F, 0.1F, 0.1F};
    if (own < part.size()) part[own] = 0.7F;
    float const lot = draw.next();
    int const kind = lot < part[0] ? 0 : lot < part[0] + part[1] ? 1 : lot < part[0] + part[1] + part[2] ? 2 : 3;
    double const h = kind == 1 ? draw.within(66, 100) : kind == 2 ? draw.within(50, 100) : draw.within(1, 50);
    double const w = kind == 0 ? draw.within(66, 100) : kind == 2 ? draw.within(50, 100) : draw.within(1, 50);
    one.pieces.push_back({w, h});
  }
  return one;
}

TEST_CASE("the published instances need at most one sheet in a hundred more than the best known", "[long]") {
  // The best known solutions of 2DPackLib (M. Iori, V. L. de Lima, S. Martello, M. Monaci, Oper. Res. Lett. 50, 2022), all 500 together; by their area
  // they need 5980.
  // Without LAYRIGHT_ALL upright pieces only, and with a tenth of the tries: those that follow can only save more.
  bool const all = std::getenv("LAYRIGHT_ALL") != nullptr;
  auto const [turns, best_known] = GENERATE(table<PieceTurns, double>({{PieceTurns::none, 7234}, {PieceTurns::quarter, 6988}}));
  if (turns != PieceTurns::none && !all) return;
  double sheets = 0, bound = 0, by_area = 0;
  for (std::size_t c = 0; c < 10; ++c)
    for (int const count : {20, 40, 60, 80, 100})
      for (int number = 1; number <= 10; ++number) {
        auto one = published_instance(c, count, number);
        double area = 0;
        for (auto& piece : one.pieces) piece.turns = turns, area += piece.width * piece.height;
        GangRules rules{one.sheet, one.sheet, 0, Cuts::free};
        if (!all) rules.effort /= 10;
        auto const layout = arrange_gang(one.pieces, rules);
        REQUIRE(layout);
        REQUIRE(what_is_wrong(one.pieces, rules, *layout) == "");
        sheets += layout->sheets;
        bound += layout->bound;
        by_area += std::ceil(area / (one.sheet * one.sheet));
      }
  INFO(sheets << " sheets, " << bound << " at least");
  CHECK(by_area == 5980);
  CHECK(bound <= best_known);
  CHECK(sheets >= best_known);
  CHECK(sheets <= 1.01 * best_known);
}

TEST_CASE("no arrangement of few small boxes is below the bound") {
  // Sides of halves and thirds of the sheet: what fits is counted by hand.
  auto const bound = [](std::vector<GangPiece> const& pieces) { return arrange_gang(pieces, {60, 60, 0, Cuts::free})->bound; };
  CHECK(bound(std::vector<GangPiece>(4, {30, 30})) == 1);
  CHECK(bound(std::vector<GangPiece>(5, {30, 30})) == 2);
  CHECK(bound(std::vector<GangPiece>(2, {31, 31})) == 2);  // by area one sheet would do
  CHECK(bound(std::vector<GangPiece>(4, {20, 40})) == 1);  // round a middle
  CHECK(bound(std::vector<GangPiece>(9, {20, 20})) == 1);
  CHECK(bound(std::vector<GangPiece>(5, {21, 21})) == 2);  // four a sheet
  CHECK(bound({{60, 31, PieceTurns::none}, {31, 60, PieceTurns::none}}) == 2);
}

}  // namespace
}  // namespace layright
