#include "marks/faint_sum.h"

#include "raster/paper.h"

namespace layright {
namespace {
constexpr std::size_t kMostParts = 256;  // a page with more faint marks than this is no shadow
}

std::optional<SeenRect> FaintSum::add(SeenRect const& box, float tint) {
  std::optional<SeenRect> ink;
  bool known = false;
  for (std::size_t i = 0, n = parts_.size(); i < n; ++i) {
    auto const both = intersection(parts_[i].box, box);
    if (!both || !(both->area() > 0)) continue;
    float const sum = parts_[i].tint + tint * (1 - parts_[i].tint);
    if (sum >= kLeastTint) ink = united(ink, both);
    if (*both == parts_[i].box) parts_[i].tint = sum;
    else if (parts_.size() < kMostParts) parts_.push_back({*both, sum});
    known = known || *both == box;
  }
  if (!known && parts_.size() < kMostParts) parts_.push_back({box, tint});
  return ink;
}

void FaintSum::cover(SeenRect const& box) {
  std::erase_if(parts_, [&](Part const& part) { return box.contains(part.box); });
}

}  // namespace layright
