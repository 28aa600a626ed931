#include "marks/art.h"

#include <algorithm>
#include <cmath>

namespace layright {

void Smallest::add(double value, Rect<SeenSpace> const& where) {
  if (!std::isfinite(value) || !wants(value)) return;
  constexpr double kSame = 1e-3;
  auto const at = std::lower_bound(entries_.begin(), entries_.end(), value - kSame, [](Entry const& e, double v) { return e.value < v; });
  if (at != entries_.end() && at->value <= value + kSame) {
    at->around = united(at->around, where);
    return at->places.add(where);
  }
  auto const fresh = entries_.insert(at, {value, {}, where});
  fresh->places.add(where);
  if (entries_.size() > kMostValues) entries_.pop_back();
}

Places Smallest::below(double limit) const {
  Places all;
  for (auto const& e : entries_) {
    if (e.value >= limit) break;
    all.add(e.places);
  }
  return all;
}

}  // namespace layright
