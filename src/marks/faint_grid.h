// The page in cells, each with the tint that lies over its middle: for telling a faint ground, however it comes about.
#pragma once
#include <vector>

#include "marks/art.h"
#include "mupdf/library.h"

namespace layright {

class FaintGrid {
 public:
  explicit FaintGrid(SeenRect const& seen) : seen_(seen) {}
  /// A mark that covers all of `where`, of a tint (0 to 1) at an opacity.
  void lay(SeenRect const& where, float tint, float alpha) {
    lay(where, tint, alpha, [](SeenPoint) { return true; });
  }
  /// The same of a mark that covers the places where `covers(SeenPoint)` holds.
  template <class Covers>
  void lay(SeenRect const& where, float tint, float alpha, Covers&& covers);
  /// By tint, the faintest first, what is no stronger than kMostFaint.
  std::vector<FaintNote> notes() const;

 private:
  static constexpr int kCells = 64;  // each way
  struct Span {
    int from, to;
  };
  Span columns(SeenRect const& box) const;
  Span rows(SeenRect const& box) const;
  SeenPoint middle(int x, int y) const { return {seen_.x0 + (x + 0.5) * seen_.width() / kCells, seen_.y0 + (y + 0.5) * seen_.height() / kCells}; }
  float& cell(int x, int y) { return tints_[static_cast<std::size_t>(y * kCells + x)]; }
  SeenRect seen_;
  std::vector<float> tints_;  // empty until something is laid
};

template <class Covers>
void FaintGrid::lay(SeenRect const& where, float tint, float alpha, Covers&& covers) {
  auto const across = columns(where), up = rows(where);
  if (across.from >= across.to || up.from >= up.to) return;
  if (tints_.empty()) {
    if (!(tint * alpha > 0)) return;
    tints_.assign(static_cast<std::size_t>(kCells) * kCells, 0);
  }
  for (int y = up.from; y < up.to; ++y)
    for (int x = across.from; x < across.to; ++x)
      if (covers(middle(x, y))) cell(x, y) = cell(x, y) * (1 - alpha) + tint * alpha;
}

}  // namespace layright
