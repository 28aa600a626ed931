#include "gang/bound.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace layright {
namespace {

constexpr double kMostProducts = 4e6;  // of weights that are summed: some hundredths of a second
constexpr double kSumNoise = 1e-7;

/// One function, at each of the sides.
using Weights = std::vector<double>;

struct Kinds {  // boxes that are alike
  std::vector<GangBox> box;
  std::vector<double> count;
};

Kinds kinds_of(std::vector<GangBox> const& boxes) {
  std::map<std::tuple<std::int64_t, std::int64_t, bool>, double> counts;
  for (auto const& b : boxes) ++counts[{b.width, b.height, b.may_turn}];
  Kinds kinds;
  for (auto const& [key, count] : counts) {
    kinds.box.push_back({std::get<0>(key), std::get<1>(key), std::get<2>(key)});
    kinds.count.push_back(count);
  }
  return kinds;
}

/// Below a threshold a side counts nothing, and what leaves less than it free counts for the whole.
double rounded_ends(std::int64_t side, std::int64_t whole, std::int64_t threshold) {
  if (side > whole - threshold) return 1;
  return side < threshold ? 0 : static_cast<double>(side) / static_cast<double>(whole);
}
/// How many steps a side takes of those that the whole has.
double stepped(std::int64_t side, std::int64_t whole, std::int64_t step) {
  auto const all = whole / step;
  if (2 * side > whole) return 1 - static_cast<double>((whole - side) / step) / static_cast<double>(all);
  if (2 * side == whole) return 0.5;
  return static_cast<double>(side / step) / static_cast<double>(all);
}
/// As stepped, but all sides up to the half count as one step.
double one_step(std::int64_t side, std::int64_t whole, std::int64_t step) {
  auto const all = whole / step;
  if (2 * side > whole) return 1 - static_cast<double>((whole - side) / step) / static_cast<double>(all);
  return side < step ? 0 : 1 / static_cast<double>(all);
}
/// Parts of the whole, whatever is more than a part counting for the next one.
double in_parts(std::int64_t side, std::int64_t whole, std::int64_t parts) {
  auto const times = side * (parts + 1);
  if (times % whole == 0) return static_cast<double>(side) / static_cast<double>(whole);
  return static_cast<double>(times / whole) / static_cast<double>(parts);
}

/// The functions that are tried along one side of the sheet, each different one once.
std::vector<Weights> functions(std::vector<std::int64_t> const& sides, std::int64_t whole, std::size_t most) {
  std::set<std::int64_t> thresholds;
  for (auto const side : sides) {
    if (side > whole) continue;  // it lies the other way round
    for (auto const t : {side, whole - side, whole - side + 1})
      if (t > 0 && 2 * t <= whole) thresholds.insert(t);
  }
  std::set<Weights> different;
  std::vector<Weights> out;
  auto const add = [&](auto const& weight) {
    Weights weights;
    for (auto const side : sides) weights.push_back(side > whole ? 0 : weight(side));
    if (out.size() < most && different.insert(weights).second) out.push_back(std::move(weights));
  };
  add([&](std::int64_t side) { return static_cast<double>(side) / static_cast<double>(whole); });
  constexpr std::int64_t kMostParts = 8;
  for (std::int64_t parts = 1; parts <= kMostParts; ++parts) add([&](std::int64_t side) { return in_parts(side, whole, parts); });
  std::vector<std::int64_t> const all(thresholds.begin(), thresholds.end());
  std::size_t const stride = std::max<std::size_t>(1, 3 * all.size() / std::max<std::size_t>(most - out.size(), 1));
  for (std::size_t i = 0; i < all.size(); i += stride) {
    auto const t = all[i];
    add([&](std::int64_t side) { return rounded_ends(side, whole, t); });
    add([&](std::int64_t side) { return stepped(side, whole, t); });
    add([&](std::int64_t side) { return one_step(side, whole, t); });
  }
  return out;
}

}  // namespace

int fewest_sheets(GangBoxes const& given) {
  if (given.boxes.empty()) return 0;
  auto const kinds = kinds_of(given.boxes);
  std::size_t const n = kinds.box.size();
  // Both sides of all kinds, so that a function is known along the other side of the sheet too.
  std::vector<std::int64_t> sides;
  for (auto const& b : kinds.box) sides.push_back(b.width);
  for (auto const& b : kinds.box) sides.push_back(b.height);
  auto const most = std::max<std::size_t>(static_cast<std::size_t>(std::sqrt(kMostProducts / static_cast<double>(n))), 16);
  auto const across = functions(sides, given.width, most), up = functions(sides, given.height, most);
  // On a square sheet an arrangement may be looked at from its other side: then the mean of both ways holds, for all boxes alike.
  bool const mean = given.width == given.height && std::ranges::any_of(given.boxes, &GangBox::may_turn);
  double best = 1;
  for (auto const& f : across)
    for (auto const& g : up) {
      double sum = 0;
      for (std::size_t i = 0; i < n; ++i) {
        auto const& box = kinds.box[i];
        double const upright = f[i] * g[n + i], turned = f[n + i] * g[i];
        bool const upright_fits = box.width <= given.width && box.height <= given.height;
        bool const turned_fits = box.may_turn && box.height <= given.width && box.width <= given.height;
        double const lesser = !turned_fits ? upright : !upright_fits ? turned : std::min(upright, turned);
        sum += kinds.count[i] * (mean ? (upright + turned) / 2 : lesser);
      }
      best = std::max(best, sum);
    }
  return static_cast<int>(std::ceil(best - kSumNoise));
}

}  // namespace layright
