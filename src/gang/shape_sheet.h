// One sheet of outlines: which of its cells are taken, and where a shape comes to lie lowest.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "gang/gang.h"
#include "gang/ink_shape.h"

namespace layright {

/// Cells side by side in one row of a shape.
struct CellRun {
  int row, from, length;
};

/// Row by row, from the lowest.
std::vector<CellRun> runs_of(InkShape const& shape);

/// Cells along a side of the live area, in points: with what ink may pass it.
int cells_of_sheet(double side);

/// Of two turns the better one: its upper edge lies lower, its lower edge, or the middle of its ink.
enum class TurnFit { top, bottom, middle };
inline constexpr int kTurnFits = 3;

/// A piece in one of its turns, in cells.
struct TurnedShape {
  Turn turn = Turn::none;
  std::size_t number = 0;         // among all turned shapes of an order
  std::vector<CellRun> runs;      // of its ink, the longest first
  std::vector<CellRun> kept_off;  // of what no other piece's ink may touch: counted from `reach` cells below and left of the ink's box
  int reach = 0;
  int most_column = 0, most_row = 0;   // where its box still lies in the live area; below 0 where it fits nowhere
  std::array<int, kTurnFits> above{};  // what is compared, above its lowest row
  double area = 0;                     // of its ink, in square points
};

/// `width` and `height` are those of the piece's ink after the turn, in points.
TurnedShape turned_shape(InkShape const& shape, Turn turn, double width, double height, GangRules const& rules);

class ShapeSheet {
 public:
  ShapeSheet(int columns, int rows);

  struct Spot {
    int column, row;
  };
  /// The lowest place from row `from` on and below row `end`, of these the leftmost.
  std::optional<Spot> lowest(TurnedShape const& shape, int from, int end) const;
  void take(TurnedShape const& shape, Spot const& spot);
  double used() const { return used_; }

 private:
  using Word = std::uint64_t;
  void smear(int row);

  int columns_, rows_;
  std::size_t stride_;                     // words a row; the last one is empty
  std::vector<std::vector<Word>> smears_;  // bit x of a row at level n: any of the 2^n cells from x on is taken
  double used_ = 0;
};

}  // namespace layright
