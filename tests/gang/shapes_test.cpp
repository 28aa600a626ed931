#include "gang/shapes.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "gang/ink_shape.h"
#include "gang/shape_sheet.h"

namespace layright {
namespace {

/// An L: a column and a foot, each `thick` cells.
std::shared_ptr<InkShape const> corner_piece(int columns, int rows, int thick) {
  auto shape = std::make_shared<InkShape>(columns, rows, 0.0);
  double cells = 0;
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column)
      if (row < thick || column < thick) shape->set(column, row), ++cells;
  return std::make_shared<InkShape>([&] {
    InkShape with_area(columns, rows, cells * kShapeCell * kShapeCell);
    for (int row = 0; row < rows; ++row)
      for (int column = 0; column < columns; ++column)
        if (shape->has(column, row)) with_area.set(column, row);
    return with_area;
  }());
}

struct Cell {
  double x0, y0, x1, y1;
};

/// Where each inked cell of a piece comes to lie, as far as it is inside the ink's box: worked out from the piece itself and its turn.
std::vector<Cell> cells_of(GangPiece const& piece, GangSlot const& slot) {
  std::vector<Cell> cells;
  double const w = piece.width, h = piece.height;
  for (int row = 0; row < piece.shape->rows(); ++row)
    for (int column = 0; column < piece.shape->columns(); ++column) {
      if (!piece.shape->has(column, row)) continue;
      double const a = column * kShapeCell, b = std::min(a + kShapeCell, w), c = row * kShapeCell, d = std::min(c + kShapeCell, h);
      Cell cell{a, c, b, d};
      if (slot.turn == Turn::quarter) cell = {h - d, a, h - c, b};
      if (slot.turn == Turn::half) cell = {w - b, h - d, w - a, h - c};
      if (slot.turn == Turn::three_quarters) cell = {c, w - b, d, w - a};
      cells.push_back({slot.x + cell.x0, slot.y + cell.y0, slot.x + cell.x1, slot.y + cell.y1});
    }
  return cells;
}

double least_distance(std::vector<Cell> const& a, std::vector<Cell> const& b) {
  double least = 1e9;
  for (auto const& p : a)
    for (auto const& q : b) least = std::min(least, std::hypot(std::max({p.x0 - q.x1, q.x0 - p.x1, 0.0}), std::max({p.y0 - q.y1, q.y0 - p.y1, 0.0})));
  return least;
}

TEST_CASE("outlines lie in each other's hollows and keep their gap", "[long]") {
  auto const turns = GENERATE(PieceTurns::none, PieceTurns::quarter, PieceTurns::any);
  auto const gap = GENERATE(0.0, 10.0, 18.0);
  auto const shape = corner_piece(30, 40, 6);
  // The box ends within the last cells, as it does in earnest.
  GangPiece const piece{30 * kShapeCell - 1.3, 40 * kShapeCell - 0.7, turns, shape};
  std::vector<GangPiece> const pieces(24, piece);
  GangRules const rules{300, 300, gap, Cuts::shape};
  auto const layout = arrange_gang(pieces, rules);
  REQUIRE(layout);
  CHECK(layout->bound <= layout->sheets);
  auto const boxes = arrange_gang(pieces, {300, 300, gap, Cuts::free});
  CHECK(layout->sheets <= boxes->sheets);
  if (turns == PieceTurns::any && gap == 0) CHECK(layout->sheets < boxes->sheets);  // upside down one fills the hollow of another
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    auto const& slot = layout->slots[i];
    bool const turned = swaps_sides(slot.turn);
    CHECK(slot.x + (turned ? piece.height : piece.width) <= rules.width + 0.011);
    CHECK(slot.y + (turned ? piece.width : piece.height) <= rules.height + 0.011);
    for (std::size_t j = 0; j < i; ++j)
      if (layout->slots[j].sheet == slot.sheet) CHECK(least_distance(cells_of(piece, slot), cells_of(piece, layout->slots[j])) >= gap - 1e-6);
  }
}

TEST_CASE("a shape lies in the lowest place that there is") {
  // Against every place of a sheet that is kept cell by cell; wider than two words, so that shapes lie across them.
  constexpr int kColumns = 150, kRows = 60;
  auto const seed = GENERATE(range(1U, 9U));
  std::mt19937 random(seed);
  auto const below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  GangRules const rules{kColumns * kShapeCell - 1, kRows * kShapeCell - 1, 4};
  ShapeSheet sheet(kColumns, kRows);
  std::vector<std::vector<bool>> taken(kRows, std::vector<bool>(kColumns));
  for (int i = 0; i < 25; ++i) {
    InkShape shape(1 + below(seed < 5 ? 20 : 120), 1 + below(20), 1);
    for (int row = 0; row < shape.rows(); ++row)
      for (int column = 0; column < shape.columns(); ++column)
        if (below(5) != 0) shape.set(column, row);
    auto const turned = turned_shape(shape, Turn::none, shape.columns() * kShapeCell, shape.rows() * kShapeCell, rules);
    auto const is_free = [&](int x, int y) {
      for (auto const& run : runs_of(shape))
        for (int j = 0; j < run.length; ++j)
          if (taken[static_cast<std::size_t>(y + run.row)][static_cast<std::size_t>(x + run.from + j)]) return false;
      return true;
    };
    std::optional<ShapeSheet::Spot> wanted;
    for (int y = 0; y <= turned.most_row && !wanted; ++y)
      for (int x = 0; x <= turned.most_column && !wanted; ++x)
        if (is_free(x, y)) wanted = ShapeSheet::Spot{x, y};
    auto const found = sheet.lowest(turned, 0, kRows);
    REQUIRE(found.has_value() == wanted.has_value());
    if (!found) continue;
    REQUIRE(std::pair(found->column, found->row) == std::pair(wanted->column, wanted->row));
    sheet.take(turned, *found);
    for (auto const& run : runs_of(shape))  // what is nearer than 4 points, which reach into the second cell
      for (int j = 0; j < run.length; ++j)
        for (int dy = -2; dy <= 2; ++dy)
          for (int dx = -2; dx <= 2; ++dx) {
            int const x = found->column + run.from + j + dx, y = found->row + run.row + dy;
            if (x < 0 || y < 0 || x >= kColumns || y >= kRows) continue;
            if (std::hypot(std::max(std::abs(dx) - 1, 0), std::max(std::abs(dy) - 1, 0)) * kShapeCell < 4)
              taken[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)] = true;
          }
  }
}

TEST_CASE("an outline as large as the live area takes a sheet, and lets others lie by outline") {
  auto const large = std::make_shared<InkShape>(101, 101, 90000.0);
  large->set(0, 0);
  std::vector<GangPiece> const pieces{{300.005, 300.005, PieceTurns::any, large}, {89, 119, PieceTurns::any, corner_piece(30, 40, 6)}};
  auto const layout = arrange_gang(pieces, {300, 300, 0, Cuts::shape});
  REQUIRE(layout);
  CHECK(layout->sheets == 1);  // its ink is but a corner
}

TEST_CASE("a shape without ink in its corner is turned with it") {
  InkShape shape(3, 2, 1);
  shape.set(0, 0);  // the lower left
  CHECK(shape.turned(Turn::quarter).has(1, 0));
  CHECK(shape.turned(Turn::half).has(2, 1));
  CHECK(shape.turned(Turn::three_quarters).has(0, 2));
  CHECK_FALSE(shape.turned(Turn::three_quarters).has(1, 2));
}

}  // namespace
}  // namespace layright
