#include "reading/grounds.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

constexpr std::size_t kMostGrounds = 200;

bool apart(Rgb a, Rgb b, float opacity) {
  return opacity * std::max({std::fabs(a.r - b.r), std::fabs(a.g - b.g), std::fabs(a.b - b.b)}) > kStandsOut;
}

}  // namespace

void Grounds::paint(SeenRect const& where, bool solid, std::optional<Rgb> color) {
  if (solid && grounds_.size() > kMostGrounds / 2)  // what it covers can be seen no more
    std::erase_if(grounds_, [&](Ground const& g) { return where.contains(g.where); });
  grounds_.push_back({where, solid, color});
  if (grounds_.size() <= kMostGrounds) return;
  SeenRect const& oldest = grounds_.front().where;
  forgotten_ = forgotten_ ? united(*forgotten_, oldest) : oldest;
  grounds_.pop_front();
}

bool Grounds::stands_out(SeenRect const& where, Rgb color, float opacity, bool paper) const {
  for (auto g = grounds_.rbegin(); g != grounds_.rend(); ++g) {
    if (!intersection(g->where, where)) continue;
    if (!g->color || !apart(color, *g->color, opacity)) return false;
    if (g->solid && g->where.contains(where)) return true;
  }
  if (forgotten_ && intersection(*forgotten_, where)) return false;
  return paper ? apart(color, {1, 1, 1}, opacity) : opacity > kStandsOut;
}

}  // namespace layright
