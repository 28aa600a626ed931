#include "marks/ink_ledger.h"

#include <algorithm>

namespace layright {
namespace {
constexpr std::size_t kMostReasons = 6;
}

void InkLedger::painted(SeenRect const& box) { painted_ = painted_ ? united(*painted_, box) : box; }

void InkLedger::ink(Extent const& extent, bool solid) {
  long const mark = marks_++;
  painted(extent.box);
  hull_ = hull_ ? united(*hull_, extent.box) : extent.box;
  if (solid && (!solid_ || extent.box.area() > solid_->area())) solid_ = extent.box;
  bool moved = false;
  for (unsigned side = 0; side < 4; ++side) {
    if (!(extent.sure & 1U << side)) continue;
    auto& reasons = reasons_[side];
    double const out = outward(extent.box, side);
    if (reasons.size() == kMostReasons && out <= outward(reasons.back().box, side)) continue;
    auto const at = std::find_if(reasons.begin(), reasons.end(), [&](Reason const& r) { return outward(r.box, side) < out; });
    moved = moved || at == reasons.begin();
    reasons.insert(at, Reason{extent.box, mark});
    if (reasons.size() > kMostReasons) reasons.pop_back();
  }
  if (moved) settle();
}

void InkLedger::cover(SeenRect const& box, bool solid, long since) {
  painted(box);
  covers_ = true;
  if (!hull_) return;
  if (solid && since == 0 && box.contains(*hull_, kSame)) {
    hull_.reset();
    solid_.reset();
    for (auto& reasons : reasons_) reasons.clear();
    settle();
    return;
  }
  bool moved = false;
  for (unsigned side = 0; side < 4; ++side) {
    // A cover that does not reach the mark's outermost place cannot move that side inwards.
    moved = std::erase_if(reasons_[side],
                          [&](Reason const& r) {
                            return r.mark >= since && intersection(r.box, box) && outward(box, side) >= outward(r.box, side) - kSame;
                          }) > 0 ||
            moved;
  }
  if (solid_ && since < marks_ && intersection(*solid_, box)) solid_.reset();
  if (moved) settle();
}

std::optional<double> InkLedger::sure(unsigned side) const {
  if (reasons_[side].empty()) return std::nullopt;
  return side_of(reasons_[side].front().box, side);
}

bool InkLedger::is_sure(unsigned side) const {
  return !reasons_[side].empty() && outward(reasons_[side].front().box, side) >= outward(*hull_, side) - kSame;
}

void InkLedger::settle() {
  settled_.reset();
  for (auto const& reasons : reasons_)
    if (reasons.empty()) return;
  SeenRect const b{*sure(kLeft), *sure(kBottom), *sure(kRight), *sure(kTop)};
  if (b.x1 - b.x0 > 2 * kMargin && b.y1 - b.y0 > 2 * kMargin) settled_ = b.grown(-kMargin);
}

}  // namespace layright
