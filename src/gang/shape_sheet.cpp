#include "gang/shape_sheet.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <functional>

namespace layright {
namespace {

constexpr int kBits = 64;
constexpr double kEdgeSlack = 0.011;  // points: as far as ink may pass the live area (Limits::margin_tolerance)

/// All cells nearer than the gap to a cell of the shape.
std::vector<CellRun> grown(std::vector<CellRun> const& runs, int rows, int reach, double gap) {
  std::vector<int> half(static_cast<std::size_t>(reach) + 1, -1);  // for each row apart, how many columns apart is still too near
  for (int dy = 0; dy <= reach; ++dy)
    for (int dx = 0; dx <= reach; ++dx) {
      double const x = std::max(dx - 1, 0) * kShapeCell, y = std::max(dy - 1, 0) * kShapeCell;
      if ((dx == 0 && dy == 0) || std::hypot(x, y) < gap) half[static_cast<std::size_t>(dy)] = dx;
    }
  std::vector<std::vector<CellRun>> wide(static_cast<std::size_t>(rows + 2 * reach));
  for (auto const& run : runs)
    for (int row = run.row; row <= run.row + 2 * reach; ++row)
      if (int const more = half[static_cast<std::size_t>(std::abs(row - run.row - reach))]; more >= 0)
        wide[static_cast<std::size_t>(row)].push_back({row, run.from + reach - more, run.length + 2 * more});
  std::vector<CellRun> out;
  for (auto& row : wide) {
    std::ranges::sort(row, {}, &CellRun::from);
    for (std::size_t const first = out.size(); auto const& run : row)
      if (out.size() == first || out.back().from + out.back().length < run.from) out.push_back(run);
      else out.back().length = std::max(out.back().length, run.from + run.length - out.back().from);
  }
  return out;
}

int middle_row(std::vector<CellRun> const& runs) {
  double sum = 0, cells = 0;
  for (auto const& run : runs) sum += static_cast<double>(run.row) * run.length, cells += run.length;
  return cells > 0 ? static_cast<int>(std::lround(sum / cells)) : 0;
}

}  // namespace

std::vector<CellRun> runs_of(InkShape const& shape) {
  std::vector<CellRun> runs;
  for (int row = 0; row < shape.rows(); ++row)
    for (int column = 0; column < shape.columns(); ++column) {
      if (!shape.has(column, row)) continue;
      int const from = column;
      while (column < shape.columns() && shape.has(column, row)) ++column;
      runs.push_back({row, from, column - from});
    }
  return runs;
}

int cells_of_sheet(double side) { return std::max(static_cast<int>(std::ceil((side + kEdgeSlack) / kShapeCell)), 1); }

TurnedShape turned_shape(InkShape const& unturned, Turn turn, double width, double height, GangRules const& rules) {
  auto const shape = unturned.turned(turn);
  TurnedShape out;
  out.turn = turn;
  out.runs = runs_of(shape);
  out.reach = static_cast<int>(std::ceil(rules.gap / kShapeCell)) + 1;
  out.kept_off = grown(out.runs, shape.rows(), out.reach, rules.gap);
  std::ranges::stable_sort(out.runs, std::greater(), &CellRun::length);  // the longest blocks the most
  auto const most = [](double room, double side, int cells) {
    return side > room + kEdgeSlack ? -1
                                    : std::min(static_cast<int>(std::floor((room - side + kEdgeSlack) / kShapeCell)), cells_of_sheet(room) - cells);
  };
  out.most_column = most(rules.width, width, shape.columns());
  out.most_row = most(rules.height, height, shape.rows());
  out.above = {shape.rows(), 0, middle_row(out.runs)};
  out.area = shape.area();
  return out;
}

ShapeSheet::ShapeSheet(int columns, int rows) : columns_(columns), rows_(rows), stride_(static_cast<std::size_t>(columns / kBits + 2)) {
  for (int level = 0; (1 << level) <= columns; ++level) smears_.emplace_back(stride_ * static_cast<std::size_t>(rows));
}

/// A run is free where the two smears are that cover it, one from its first cell on and one up to its last.
std::optional<ShapeSheet::Spot> ShapeSheet::lowest(TurnedShape const& shape, int from, int end) const {
  std::size_t const words = static_cast<std::size_t>(shape.most_column / kBits) + 1;
  std::vector<Word> open(words);  // bit x: the shape may begin at column x
  for (int y = from; y < std::min(shape.most_row + 1, end); ++y) {
    std::ranges::fill(open, ~Word{0});
    open.back() >>= kBits - 1 - shape.most_column % kBits;
    Word any = 1;
    for (auto run = shape.runs.begin(); run != shape.runs.end() && any != 0; ++run) {
      int const level = std::bit_width(static_cast<unsigned>(run->length)) - 1, second = run->from + run->length - (1 << level);
      Word const* const row = smears_[static_cast<std::size_t>(level)].data() + static_cast<std::size_t>(y + run->row) * stride_;
      Word const *const a = row + run->from / kBits, *const b = row + second / kBits;
      int const down_a = run->from % kBits, down_b = second % kBits;
      any = 0;
      for (std::size_t i = 0; i < words; ++i) {  // a shift by a whole word would not be defined: hence in two steps
        Word const taken_a = (a[i] >> down_a) | ((a[i + 1] << 1) << (kBits - 1 - down_a));
        Word const taken_b = (b[i] >> down_b) | ((b[i + 1] << 1) << (kBits - 1 - down_b));
        open[i] &= ~(taken_a | taken_b);
        any |= open[i];
      }
    }
    for (std::size_t i = 0; i < words; ++i)
      if (open[i] != 0) return Spot{static_cast<int>(i) * kBits + std::countr_zero(open[i]), y};
  }
  return std::nullopt;
}

void ShapeSheet::take(TurnedShape const& shape, Spot const& spot) {
  used_ += shape.area;
  if (shape.kept_off.empty()) return;
  for (auto const& run : shape.kept_off) {
    int const y = spot.row + run.row - shape.reach, left = spot.column + run.from - shape.reach;
    if (y < 0 || y >= rows_) continue;
    Word* const row = smears_[0].data() + static_cast<std::size_t>(y) * stride_;
    for (int x = std::max(left, 0); x < std::min(left + run.length, columns_); ++x) row[x / kBits] |= Word{1} << (x % kBits);
  }
  int const first = spot.row + shape.kept_off.front().row - shape.reach, last = spot.row + shape.kept_off.back().row - shape.reach;
  for (int y = std::max(first, 0); y <= std::min(last, rows_ - 1); ++y) smear(y);
}

void ShapeSheet::smear(int y) {
  for (std::size_t level = 1; level < smears_.size(); ++level) {
    Word const* const half = smears_[level - 1].data() + static_cast<std::size_t>(y) * stride_;
    Word* const row = smears_[level].data() + static_cast<std::size_t>(y) * stride_;
    std::size_t const step = std::size_t{1} << (level - 1), words = step / kBits;
    int const bits = static_cast<int>(step % kBits);
    for (std::size_t i = 0; i + 1 < stride_; ++i) {
      Word const low = i + words < stride_ ? half[i + words] : 0, high = i + words + 1 < stride_ ? half[i + words + 1] : 0;
      row[i] = half[i] | (low >> bits) | ((high << 1) << (kBits - 1 - bits));
    }
  }
}

}  // namespace layright
