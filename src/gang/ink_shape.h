// The outline of a piece's ink, in square cells.
#pragma once
#include <cstdint>
#include <vector>

#include "geometry/turn.h"

namespace layright {

/// Row 0 is the lowest; the lower left corner of the first cell is that of the ink's box. A cell with any ink counts whole.
class InkShape {
 public:
  /// `area`: of the ink itself, in square points.
  InkShape(int columns, int rows, double area)
      : columns_(columns), rows_(rows), area_(area), cells_(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows)) {}
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  double area() const { return area_; }
  bool has(int column, int row) const { return cells_[index(column, row)]; }
  void set(int column, int row) { cells_[index(column, row)] = true; }
  InkShape turned(Turn turn) const;

 private:
  std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
  }
  int columns_, rows_;
  double area_;
  std::vector<bool> cells_;
};

/// The side of a cell, in points: small against any gap that is cut in, and a whole part of the usual one, so that none of it is lost to rounding.
inline constexpr double kShapeCell = 72.0 / 24;

}  // namespace layright
