#include "gang/shapes.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <functional>
#include <map>
#include <numeric>

#include "gang/ink_shape.h"

namespace layright {
namespace {

using Word = std::uint64_t;
using Row = std::vector<Word>;
constexpr int kBits = 64;

/// Cells side by side in one row of a shape.
struct Run {
  int row, from, length;
};

/// A piece in one of its turns.
struct TurnedShape {
  Turn turn = Turn::none;
  double width = 0, height = 0;  // points
  int columns = 0, rows = 0;
  std::vector<Run> runs;      // of its ink, the longest first
  std::vector<Run> kept_off;  // of what no other piece's ink may touch: counted from `reach` cells below and left of the ink's box
  int reach = 0;
  int most_column = 0, most_row = 0;  // where its box still lies in the live area
  double area = 0;
};

/// Bit x of the result is bit x + n of `row`.
void shift_down(Row const& row, int n, Row& out) {
  std::size_t const words = static_cast<std::size_t>(n / kBits);
  int const bits = n % kBits;
  for (std::size_t i = 0; i < row.size(); ++i) {
    Word const low = i + words < row.size() ? row[i + words] : 0, high = i + words + 1 < row.size() ? row[i + words + 1] : 0;
    out[i] = bits == 0 ? low : (low >> bits) | (high << (kBits - bits));
  }
}

std::vector<Run> runs_of(InkShape const& shape) {
  std::vector<Run> runs;
  for (int row = 0; row < shape.rows(); ++row)
    for (int column = 0; column < shape.columns(); ++column) {
      if (!shape.has(column, row)) continue;
      int const from = column;
      while (column < shape.columns() && shape.has(column, row)) ++column;
      runs.push_back({row, from, column - from});
    }
  return runs;
}

/// All cells nearer than the gap to a cell of the shape.
InkShape grown(InkShape const& shape, int reach, double gap) {
  InkShape out(shape.columns() + 2 * reach, shape.rows() + 2 * reach, 0);
  std::vector<int> half(static_cast<std::size_t>(reach) + 1, -1);  // for each row apart, how many columns apart is still too near
  for (int dy = 0; dy <= reach; ++dy)
    for (int dx = 0; dx <= reach; ++dx) {
      double const x = std::max(dx - 1, 0) * kShapeCell, y = std::max(dy - 1, 0) * kShapeCell;
      if ((dx == 0 && dy == 0) || std::hypot(x, y) < gap) half[static_cast<std::size_t>(dy)] = dx;
    }
  for (auto const& run : runs_of(shape))
    for (int dy = -reach; dy <= reach; ++dy) {
      int const wide = half[static_cast<std::size_t>(std::abs(dy))];
      for (int x = run.from - wide; wide >= 0 && x < run.from + run.length + wide; ++x) out.set(x + reach, run.row + dy + reach);
    }
  return out;
}

class ShapeSheet {
 public:
  ShapeSheet(int columns, int rows)
      : columns_(columns), words_(static_cast<std::size_t>((columns + kBits - 1) / kBits)), rows_(static_cast<std::size_t>(rows), Row(words_)) {}

  struct Spot {
    int column, row;
  };
  /// The lowest place below row `end`, of these the leftmost.
  std::optional<Spot> lowest(TurnedShape const& shape, int end) const {
    Row beyond(words_, ~Word{0}), blocked(words_), smeared(words_), moved(words_);
    for (int x = 0; x <= shape.most_column; ++x) beyond[static_cast<std::size_t>(x / kBits)] &= ~(Word{1} << (x % kBits));
    for (int y = 0; y <= std::min(shape.most_row, end - 1); ++y) {
      blocked = beyond;
      bool full = false;
      for (auto run = shape.runs.begin(); run != shape.runs.end() && !full; ++run) {
        smear(rows_[static_cast<std::size_t>(y + run->row)], run->length, smeared, moved);
        shift_down(smeared, run->from, moved);
        full = true;
        for (std::size_t i = 0; i < words_; ++i) {
          blocked[i] |= moved[i];
          full = full && blocked[i] == ~Word{0};
        }
      }
      for (std::size_t i = 0; i < words_ && !full; ++i)
        if (blocked[i] != ~Word{0}) return Spot{static_cast<int>(i) * kBits + std::countr_one(blocked[i]), y};
    }
    return std::nullopt;
  }

  void take(TurnedShape const& shape, Spot const& spot) {
    for (auto const& run : shape.kept_off) {
      int const y = spot.row + run.row - shape.reach;
      if (y < 0 || y >= static_cast<int>(rows_.size())) continue;
      int const from = std::max(spot.column + run.from - shape.reach, 0), to = std::min(spot.column + run.from + run.length - shape.reach, columns_);
      for (int x = from; x < to; ++x) rows_[static_cast<std::size_t>(y)][static_cast<std::size_t>(x / kBits)] |= Word{1} << (x % kBits);
    }
    used += shape.area;
    ++pieces;
  }

  double used = 0;
  int pieces = 0;

 private:
  /// Bit x of the result: any of `length` bits of the row from x on.
  void smear(Row const& row, int length, Row& out, Row& scratch) const {
    out = row;
    for (int have = 1; have < length;) {
      int const step = std::min(have, length - have);
      shift_down(out, step, scratch);
      for (std::size_t i = 0; i < words_; ++i) out[i] |= scratch[i];
      have += step;
    }
  }

  int columns_;
  std::size_t words_;
  std::vector<Row> rows_;
};

class ShapePacker {
 public:
  ShapePacker(std::vector<GangPiece> const& pieces, GangRules const& rules) : pieces_(pieces), rules_(rules) {
    columns_ = std::max(static_cast<int>(std::ceil(rules.width / kShapeCell)), 1);
    rows_ = std::max(static_cast<int>(std::ceil(rules.height / kShapeCell)), 1);
    for (auto const& piece : pieces) {
      auto const key = std::pair(piece.shape.get(), piece.turns);
      if (!kinds_.contains(key)) kinds_.emplace(key, turns_of(piece));
    }
  }

  /// By three keys; then those pieces come first that lay on the last sheet, or, where that made it no better, on the one before.
  std::optional<GangLayout> best() const {
    constexpr int kKeys = 3, kTries = 6;
    std::optional<Packed> best;
    for (int key = 0; key < kKeys; ++key)
      if (auto made = packed(sorted(key)); !best || made.better_than(*best)) best = std::move(made);
    int sheet = best->layout.sheets - 1;
    for (int i = 0; i < kTries && sheet >= 0; ++i, --sheet) {
      auto order = best->order;
      std::stable_partition(order.begin(), order.end(), [&](std::size_t p) { return best->layout.slots[p].sheet == sheet; });
      auto made = packed(std::move(order));
      if (!made.better_than(*best)) continue;
      best = std::move(made);
      sheet = best->layout.sheets;
    }
    return best->layout;
  }

 private:
  std::vector<TurnedShape> turns_of(GangPiece const& piece) const {
    std::vector<Turn> turns{Turn::none};
    if (piece.turns != PieceTurns::none) turns.push_back(Turn::quarter);
    if (piece.turns == PieceTurns::any) turns.insert(turns.end(), {Turn::half, Turn::three_quarters});
    std::vector<TurnedShape> all;
    for (auto const turn : turns) {
      TurnedShape t;
      auto const shape = piece.shape->turned(turn);
      t.turn = turn;
      t.width = swaps_sides(turn) ? piece.height : piece.width;
      t.height = swaps_sides(turn) ? piece.width : piece.height;
      if (t.width > rules_.width + kNoise || t.height > rules_.height + kNoise) continue;
      t.columns = shape.columns();
      t.rows = shape.rows();
      t.reach = static_cast<int>(std::ceil(rules_.gap / kShapeCell)) + 1;
      t.runs = runs_of(shape);
      std::ranges::stable_sort(t.runs, std::greater(), &Run::length);  // the longest blocks the most
      t.kept_off = runs_of(grown(shape, t.reach, rules_.gap));
      t.most_column = std::min(static_cast<int>(std::floor((rules_.width - t.width + kNoise) / kShapeCell)), columns_ - t.columns);
      t.most_row = std::min(static_cast<int>(std::floor((rules_.height - t.height + kNoise) / kShapeCell)), rows_ - t.rows);
      t.area = shape.area();
      if (t.most_column >= 0 && t.most_row >= 0) all.push_back(std::move(t));
    }
    return all;
  }

  struct Packed {
    std::vector<std::size_t> order;
    GangLayout layout;  // its emptiest sheet is the last
    double on_last = 0;
    bool better_than(Packed const& other) const {
      return layout.sheets < other.layout.sheets || (layout.sheets == other.layout.sheets && on_last < other.on_last);
    }
  };

  std::vector<std::size_t> sorted(int key) const {
    std::vector<std::size_t> order(pieces_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    auto const measure = [&](std::size_t i) {
      auto const& p = pieces_[i];
      return key == 0 ? p.width * p.height : key == 1 ? std::max(p.width, p.height) : p.shape->area();
    };
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) { return measure(a) > measure(b); });
    return order;
  }

  Packed packed(std::vector<std::size_t> order) const {
    std::vector<ShapeSheet> sheets;
    GangLayout layout;
    layout.slots.resize(pieces_.size());
    std::map<std::pair<std::vector<TurnedShape> const*, std::size_t>, int>
        full;  // for a kind and a sheet, how many pieces were on it when it had no room
    for (auto const i : order) {
      auto const& kind = kinds_.at({pieces_[i].shape.get(), pieces_[i].turns});
      for (std::size_t s = 0;; ++s) {
        if (s == sheets.size()) sheets.emplace_back(columns_, rows_);
        auto& sheet = sheets[s];
        if (auto const known = full.find({&kind, s}); known != full.end()) continue;  // it has not become emptier since
        TurnedShape const* best = nullptr;
        std::optional<ShapeSheet::Spot> spot;
        for (auto const& turned : kind) {
          auto const found = sheet.lowest(turned, best ? spot->row + best->rows - turned.rows : rows_);
          if (!found) continue;
          best = &turned;
          spot = found;
        }
        if (!best) {
          full[{&kind, s}] = sheet.pieces;
          continue;
        }
        sheet.take(*best, *spot);
        layout.slots[i] = {i, static_cast<int>(s), spot->column * kShapeCell, spot->row * kShapeCell, best->turn};
        break;
      }
    }
    layout.sheets = static_cast<int>(sheets.size());
    auto const last = std::ranges::min_element(sheets, {}, &ShapeSheet::used);
    int const at = static_cast<int>(last - sheets.begin()), end = layout.sheets - 1;
    for (auto& slot : layout.slots) slot.sheet = slot.sheet == at ? end : slot.sheet == end ? at : slot.sheet;
    return {std::move(order), std::move(layout), last->used};
  }

  static constexpr double kNoise = 0.011;  // as far as ink may pass the live area (Limits::margin_tolerance)
  std::vector<GangPiece> const& pieces_;
  GangRules const& rules_;
  int columns_ = 0, rows_ = 0;
  std::map<std::pair<InkShape const*, PieceTurns>, std::vector<TurnedShape>> kinds_;
};

}  // namespace

/// The last cell reaches beyond the ink's box, and comes first where its side is turned round: so the cells before count as well.
InkShape InkShape::turned(Turn turn) const {
  bool const swaps = swaps_sides(turn);
  InkShape out(swaps ? rows_ : columns_, swaps ? columns_ : rows_, area_);
  auto const set = [&](int column, int row, int left, int down) {
    for (int x = std::max(column - left, 0); x <= column; ++x)
      for (int y = std::max(row - down, 0); y <= row; ++y) out.set(x, y);
  };
  for (auto const& run : runs_of(*this))
    for (int column = run.from; column < run.from + run.length; ++column) switch (turn) {  // counterclockwise
        case Turn::none: set(column, run.row, 0, 0); break;
        case Turn::quarter: set(rows_ - 1 - run.row, column, 1, 0); break;
        case Turn::half: set(columns_ - 1 - column, rows_ - 1 - run.row, 1, 1); break;
        case Turn::three_quarters: set(run.row, columns_ - 1 - column, 0, 1); break;
      }
  return out;
}

GangLayout arrange_shapes(std::vector<GangPiece> const& pieces, GangRules const& rules) {
  auto layout = ShapePacker(pieces, rules).best().value_or(GangLayout{});
  double area = 0;
  for (auto const& piece : pieces) area += piece.shape->area();
  layout.bound = std::max(1, static_cast<int>(std::ceil(area / (rules.width * rules.height) - 1e-9)));
  return layout;
}

}  // namespace layright
