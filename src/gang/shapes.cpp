#include "gang/shapes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "gang/lots.h"
#include "gang/shape_sheet.h"

namespace layright {
namespace {

constexpr int kShapeKeys = 3;

struct ShapeOrder {
  std::vector<std::size_t> order;
  TurnFit fit = TurnFit::top;
};

struct PackedShapes {
  ShapeOrder how;
  GangLayout layout;  // its emptiest sheet is the last
  double on_last = 0;
  bool better_than(PackedShapes const& other) const {
    return layout.sheets < other.layout.sheets || (layout.sheets == other.layout.sheets && on_last < other.on_last);
  }
};

class ShapePacker {
 public:
  ShapePacker(std::vector<GangPiece> const& pieces, GangRules const& rules) : pieces_(pieces), rules_(rules) {
    for (auto const& piece : pieces) {
      auto& kind = kinds_[{piece.shape.get(), piece.turns}];
      if (kind.empty()) kind = turns_of(piece);
      kind_of_.push_back(&kind);
    }
  }

  bool all_fit() const {
    return std::ranges::none_of(kinds_, [](auto const& kind) { return kind.second.empty(); });
  }

  /// All must fit. By three keys and three fits, then by orders in which comes first what lay on a sheet that was not filled.
  GangLayout best() const {
    constexpr std::size_t kMostWork = 10000;  // pieces that are laid, all tries together
    std::size_t tries = std::clamp<std::size_t>(kMostWork / pieces_.size(), 1, 21);
    std::optional<PackedShapes> best;
    for (int key = 0; key < kShapeKeys; ++key)
      for (int fit = 0; fit < kTurnFits && tries > 0; ++fit, --tries)
        if (auto made = packed({sorted(key), static_cast<TurnFit>(fit)}); !best || made.better_than(*best)) best = std::move(made);
    auto current = *best;
    Lots lots;
    for (; tries > 0 && best->layout.sheets > 1; --tries) {
      auto made = packed(next_order(current, lots));
      if (current.better_than(made)) continue;
      current = std::move(made);
      if (current.better_than(*best)) best = current;
    }
    return best->layout;
  }

 private:
  std::vector<TurnedShape> turns_of(GangPiece const& piece) {
    std::vector<Turn> turns{Turn::none};
    if (piece.turns != PieceTurns::none) turns.push_back(Turn::quarter);
    if (piece.turns == PieceTurns::any) turns.insert(turns.end(), {Turn::half, Turn::three_quarters});
    std::vector<TurnedShape> all;
    for (auto const turn : turns) {
      bool const swaps = swaps_sides(turn);
      auto shape = turned_shape(*piece.shape, turn, swaps ? piece.height : piece.width, swaps ? piece.width : piece.height, rules_);
      if (shape.most_column < 0 || shape.most_row < 0) continue;
      shape.number = turned_++;
      all.push_back(std::move(shape));
    }
    return all;
  }

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

  static ShapeOrder next_order(PackedShapes const& from, Lots& lots) {
    int const last = from.layout.sheets - 1, sheet = lots.below(4) == 0 ? static_cast<int>(lots.below(static_cast<std::size_t>(last) + 1)) : last;
    auto next = from.how;
    std::stable_partition(next.order.begin(), next.order.end(), [&](std::size_t p) { return from.layout.slots[p].sheet == sheet; });
    for (std::size_t swaps = lots.below(6); swaps > 0; --swaps)
      std::swap(next.order[lots.below(next.order.size())], next.order[lots.below(next.order.size())]);
    if (lots.below(2) == 0) next.fit = static_cast<TurnFit>(lots.below(kTurnFits));
    return next;
  }

  struct OpenSheet {
    ShapeSheet sheet;
    std::vector<int> full_below;  // of each turned shape, the row below which it has no place: it will get none either, for a sheet only fills
  };

  struct Place {
    TurnedShape const* shape;
    ShapeSheet::Spot spot;
  };

  static std::optional<Place> place_on(OpenSheet& open, std::vector<TurnedShape> const& kind, TurnFit fit) {
    auto const above = [&](TurnedShape const& shape) { return shape.above[static_cast<std::size_t>(fit)]; };
    std::optional<Place> best;
    for (auto const& shape : kind) {
      auto& from = open.full_below[shape.number];
      int const all = shape.most_row + 1, end = best ? std::min(best->spot.row + above(*best->shape) - above(shape), all) : all;
      if (from >= end) continue;
      auto const found = open.sheet.lowest(shape, from, end);
      from = found ? found->row : end;
      if (found) best = Place{&shape, *found};
    }
    return best;
  }

  PackedShapes packed(ShapeOrder how) const {
    int const columns = cells_of_sheet(rules_.width), rows = cells_of_sheet(rules_.height);
    std::vector<OpenSheet> sheets;
    GangLayout layout;
    layout.slots.resize(pieces_.size());
    for (auto const i : how.order) {
      std::optional<Place> place;
      for (std::size_t s = 0; !place; ++s) {
        if (s == sheets.size()) sheets.push_back({ShapeSheet(columns, rows), std::vector<int>(turned_)});
        place = place_on(sheets[s], *kind_of_[i], how.fit);
        if (!place) continue;
        sheets[s].sheet.take(*place->shape, place->spot);
        layout.slots[i] = {i, static_cast<int>(s), place->spot.column * kShapeCell, place->spot.row * kShapeCell, place->shape->turn};
      }
    }
    layout.sheets = static_cast<int>(sheets.size());
    auto const last = std::ranges::min_element(sheets, {}, [](OpenSheet const& open) { return open.sheet.used(); });
    int const at = static_cast<int>(last - sheets.begin()), end = layout.sheets - 1;
    for (auto& slot : layout.slots) slot.sheet = slot.sheet == at ? end : slot.sheet == end ? at : slot.sheet;
    return {std::move(how), std::move(layout), last->sheet.used()};
  }

  std::vector<GangPiece> const& pieces_;
  GangRules const& rules_;
  std::size_t turned_ = 0;
  std::map<std::pair<InkShape const*, PieceTurns>, std::vector<TurnedShape>> kinds_;
  std::vector<std::vector<TurnedShape> const*> kind_of_;  // of each piece
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

int fewest_sheets_of_shapes(std::vector<GangPiece> const& pieces, GangRules const& rules) {
  double area = 0;
  for (auto const& piece : pieces) area += piece.shape->area();
  return std::max(1, static_cast<int>(std::ceil(area / (rules.width * rules.height) - 1e-9)));
}

std::optional<GangLayout> arrange_shapes(std::vector<GangPiece> const& pieces, GangRules const& rules) {
  ShapePacker const packer(pieces, rules);
  return packer.all_fit() ? std::optional(packer.best()) : std::nullopt;
}

}  // namespace layright
