#include "marks/faint_grid.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "raster/paper.h"

namespace layright {
namespace {
constexpr double kSteps = 200;  // of a tint: half a percent each
}

FaintGrid::Span FaintGrid::columns(SeenRect const& box) const {
  // Cells whose middle is covered.
  auto const at = [&](double x) { return (x - seen_.x0) / seen_.width() * kCells - 0.5; };
  return {static_cast<int>(std::clamp(std::ceil(at(box.x0)), 0.0, 1.0 * kCells)),
          static_cast<int>(std::clamp(std::floor(at(box.x1)) + 1, 0.0, 1.0 * kCells))};
}

FaintGrid::Span FaintGrid::rows(SeenRect const& box) const {
  auto const at = [&](double y) { return (y - seen_.y0) / seen_.height() * kCells - 0.5; };
  return {static_cast<int>(std::clamp(std::ceil(at(box.y0)), 0.0, 1.0 * kCells)),
          static_cast<int>(std::clamp(std::floor(at(box.y1)) + 1, 0.0, 1.0 * kCells))};
}

std::vector<FaintNote> FaintGrid::notes() const {
  std::map<int, FaintNote> by_step;
  if (tints_.empty()) return {};
  double const wide = seen_.width() / kCells, high = seen_.height() / kCells;
  for (int y = 0; y < kCells; ++y)
    for (int x = 0; x < kCells; ++x) {
      float const tint = tints_[static_cast<std::size_t>(y * kCells + x)];
      if (tint < kLeastTint || tint > kMostFaint) continue;
      SeenPoint const at = middle(x, y);
      SeenRect const cell{at.x - wide / 2, at.y - high / 2, at.x + wide / 2, at.y + high / 2};
      auto [it, added] = by_step.try_emplace(static_cast<int>(std::lround(tint * kSteps)), FaintNote{0, 0, cell});
      it->second.area += cell.area();
      it->second.tint += tint * cell.area();
      it->second.where = united(it->second.where, cell);
    }
  std::vector<FaintNote> found;
  for (auto& [step, note] : by_step) {
    note.tint /= note.area;
    found.push_back(note);
  }
  return found;
}

}  // namespace layright
