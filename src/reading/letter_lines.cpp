#include "reading/letter_lines.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>

namespace layright {
namespace {

// Our own, tried on the teaching pages of tests/reading: what letters of one line may be like. Heights are of the larger letter.
constexpr int kLowest = 5;            // pixels: lower blobs cannot be read
constexpr double kThinnest = 0.06;    // share of its extents that a letter fills at least
constexpr double kHeightRatio = 2.6;  // of neighbours
constexpr double kWidestGap = 1.5;    // heights between neighbours, so that spaces are bridged
constexpr double kPieceGap = 0.7;     // from which on it may part two pieces rather than two words
constexpr std::size_t kFewestOfPart = 3;
constexpr double kMostOverlap = 0.8;    // of the narrower letter's width (slanted letters overlap, and the parts of a broken one)
constexpr double kMostStep = 0.6;       // heights up or down from letter to letter
constexpr double kJoined = 1.7;         // a blob this many times as wide as high could be letters that hang together
constexpr double kMostFilled = 0.75;    // more is a bar
constexpr double kCounterShare = 0.6;   // of its letter's extents; the inside of an outlined letter fills more
constexpr double kCounterSize = 2.5;    // times larger at most than its counter is a letter either way
constexpr double kLikePair = 0.1;       // of their height, by which the tops and the feet of a pair may differ: two digits, as on a shirt
constexpr int kFewestUpon = 3;          // blobs of some size upon a blob that is a patch rather than a letter …
constexpr double kLeastOfPatch = 0.55;  // … and the share of its extents that it fills beside them: script that hangs together fills less
constexpr std::size_t kMostItems = 5000;

/// A blob as the search sees it: in upward lines x and y are exchanged.
struct Item {
  int x0, y0, x1, y1, blob;
  bool light;
  double filled;
  int next = -1;
  bool has_previous = false;
  int height() const { return y1 - y0; }
  int width() const { return x1 - x0; }
  double middle() const { return (y0 + y1) / 2.0; }
};

/// Whether the blob ends where the picture does, as what all stands on.
bool is_ground(Blob const& b, BlobMap const& map) { return b.x0 == 0 || b.y0 == 0 || b.x1 == map.width || b.y1 == map.height; }

/// Whether the blob is a hole in a letter, as in o, a, d; what stands on the ground is none, however little of that is seen around it.
bool is_counter(Blob const& b, BlobMap const& map) {
  Blob const& around = map.blobs[static_cast<std::size_t>(map.at(b.top_x, b.y0 - 1))];
  if (is_ground(around, map)) return false;
  bool const inside = around.x0 < b.x0 && around.y0 < b.y0 && around.x1 > b.x1 && around.y1 > b.y1;
  bool const near = around.width() < kCounterSize * b.width() && around.height() < kCounterSize * b.height();
  double const share = static_cast<double>(b.width()) * b.height() / (static_cast<double>(around.width()) * around.height());
  return inside && near && share < kCounterShare;
}

double filled(Blob const& b) { return static_cast<double>(b.area) / (static_cast<double>(b.width()) * b.height()); }

/// Which blobs are patches that letters stand upon, or frames around such a patch.
std::vector<bool> patches(BlobMap const& map) {
  std::vector<int> upon(map.blobs.size(), 0);
  auto const around = [&](Blob const& b) { return b.y0 > 0 ? static_cast<std::size_t>(map.at(b.top_x, b.y0 - 1)) : map.blobs.size(); };
  for (Blob const& b : map.blobs)
    if (std::size_t const a = around(b); a < upon.size() && std::max(b.width(), b.height()) >= kLowest) ++upon[a];
  std::vector<bool> is_patch(map.blobs.size(), false);
  for (std::size_t i = 0; i < map.blobs.size(); ++i) {
    Blob const& b = map.blobs[i];
    if (upon[i] < kFewestUpon || filled(b) < kLeastOfPatch) continue;
    is_patch[i] = true;
    if (std::size_t const a = around(b); a < upon.size() && upon[a] == 1) is_patch[a] = true;
  }
  return is_patch;
}

std::vector<Item> items_of(BlobMap const& map, std::vector<bool> const& is_patch, bool upward) {
  std::vector<Item> items;
  for (std::size_t i = 0; i < map.blobs.size(); ++i) {
    Blob const& b = map.blobs[i];
    if (is_ground(b, map) || is_patch[i] || std::max(b.width(), b.height()) < kLowest || filled(b) < kThinnest || is_counter(b, map)) continue;
    Item item{b.x0, b.y0, b.x1, b.y1, static_cast<int>(i), b.light, filled(b)};
    if (upward) std::swap(item.x0, item.y0), std::swap(item.x1, item.y1);
    if (item.height() >= kLowest) items.push_back(item);
  }
  if (items.size() > kMostItems) {
    std::nth_element(items.begin(), items.begin() + kMostItems, items.end(), [](Item const& a, Item const& b) { return a.height() > b.height(); });
    items.resize(kMostItems);
  }
  std::sort(items.begin(), items.end(), [](Item const& a, Item const& b) { return a.x0 != b.x0 ? a.x0 < b.x0 : a.blob < b.blob; });
  return items;
}

/// How far `b` is from being the letter right of `a`; negative when it cannot be.
double distance(Item const& a, Item const& b) {
  double const high = std::max(a.height(), b.height()), low = std::min(a.height(), b.height());
  if (a.light != b.light || high > kHeightRatio * low) return -1;
  double const gap = b.x0 - a.x1, step = std::abs(a.middle() - b.middle());
  if (gap > kWidestGap * high || -gap > kMostOverlap * std::min(a.width(), b.width()) || step > kMostStep * high) return -1;
  return std::max(gap, 0.0) + 0.5 * step;
}

/// Each item gets the nearest right neighbour that has no nearer left one.
void link(std::vector<Item>& items) {
  struct Pair {
    double far;
    std::size_t a, b;
  };
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < items.size(); ++i) {
    double const reach = items[i].x1 + kWidestGap * kHeightRatio * items[i].height();
    Pair best{-1, i, 0};
    for (std::size_t j = i + 1; j < items.size() && items[j].x0 <= reach; ++j) {
      double const far = distance(items[i], items[j]);
      if (far >= 0 && (best.far < 0 || far < best.far)) best = {far, i, j};
    }
    if (best.far >= 0) pairs.push_back(best);
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](Pair const& p, Pair const& q) { return p.far < q.far; });
  for (Pair const& p : pairs)
    if (!items[p.b].has_previous) {
      items[p.a].next = static_cast<int>(p.b);
      items[p.b].has_previous = true;
    }
}

double median(std::vector<double> values) {
  auto const middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Two that stand on one line and are of one height.
bool is_pair(std::vector<Item> const& items, std::size_t first) {
  Item const& a = items[first];
  if (a.next < 0) return false;
  Item const& b = items[static_cast<std::size_t>(a.next)];
  double const most = kLikePair * std::max(a.height(), b.height());
  return b.next < 0 && std::abs(a.y0 - b.y0) <= most && std::abs(a.y1 - b.y1) <= most && std::max(a.filled, b.filled) <= kMostFilled &&
         std::max(a.width(), b.width()) < kJoined * std::min(a.height(), b.height());
}

LetterLine line_of(std::vector<Item> const& items, std::span<int const> chain, bool upward) {
  LetterLine line;
  line.light = items[static_cast<std::size_t>(chain.front())].light;
  line.upward = upward;
  std::vector<double> heights;
  double gaps = 0, bars = 0;
  line.x0 = line.y0 = 1 << 30;
  for (int before = -1; int const i : chain) {
    Item const& item = items[static_cast<std::size_t>(i)];
    line.blobs.push_back(item.blob);
    heights.push_back(item.height());
    bool const bar = item.filled > kMostFilled;
    if (bar) ++bars;
    double const long_as = static_cast<double>(item.width()) / item.height();
    line.letters += bar ? 0.5 : long_as > kJoined ? 0.8 * long_as : 1;
    if (before >= 0) gaps += std::max(0, item.x0 - items[static_cast<std::size_t>(before)].x1);
    line.x0 = std::min(line.x0, item.x0), line.y0 = std::min(line.y0, item.y0);
    line.x1 = std::max(line.x1, item.x1), line.y1 = std::max(line.y1, item.y1);
    before = i;
  }
  double const count = static_cast<double>(heights.size());
  line.size = median(heights);
  double const apart = gaps / (count * line.size), uneven = bars / count;
  line.promise = std::min(line.letters, 16.0) * std::min(1.0, line.size / 12) * (1 - 0.5 * std::min(apart, 1.0)) * (1 - 0.7 * uneven);
  if (heights.size() < 3 && !is_pair(items, static_cast<std::size_t>(chain.front()))) line.promise *= 0.6;
  if (upward) std::swap(line.x0, line.y0), std::swap(line.x1, line.y1);
  return line;
}

/// The line, and what wide gaps part it into.
LetterLine line_from(std::vector<Item> const& items, std::size_t first, bool upward) {
  std::vector<int> chain;
  std::vector<std::size_t> begins{0};
  for (int i = static_cast<int>(first); i >= 0; i = items[static_cast<std::size_t>(i)].next) {
    Item const& item = items[static_cast<std::size_t>(i)];
    if (!chain.empty()) {
      Item const& before = items[static_cast<std::size_t>(chain.back())];
      if (item.x0 - before.x1 >= kPieceGap * std::max(item.height(), before.height())) begins.push_back(chain.size());
    }
    chain.push_back(i);
  }
  LetterLine line = line_of(items, chain, upward);
  if (begins.size() == 1) return line;
  begins.push_back(chain.size());
  for (std::size_t k = 0; k + 1 < begins.size(); ++k)
    if (begins[k + 1] - begins[k] >= kFewestOfPart)
      line.parts.push_back(line_of(items, std::span(chain).subspan(begins[k], begins[k + 1] - begins[k]), upward));
  return line;
}

/// A blob stands in one line only: of a level and an upright one the more promising keeps it.
void settle(std::vector<LetterLine>& lines, std::size_t blobs) {
  std::vector<double> taken(blobs, 0);
  std::vector<LetterLine> kept;
  for (LetterLine& line : lines) {
    auto const elsewhere =
        std::count_if(line.blobs.begin(), line.blobs.end(), [&](int b) { return taken[static_cast<std::size_t>(b)] > 1.3 * line.promise; });
    if (2 * static_cast<std::size_t>(elsewhere) > line.blobs.size()) continue;
    for (int b : line.blobs) taken[static_cast<std::size_t>(b)] = std::max(taken[static_cast<std::size_t>(b)], line.promise);
    kept.push_back(std::move(line));
  }
  lines = std::move(kept);
}

}  // namespace

std::vector<LetterLine> find_lines(BlobMap const& map, std::size_t most) {
  std::vector<LetterLine> lines;
  std::vector<bool> const is_patch = patches(map);
  for (bool upward : {false, true}) {
    std::vector<Item> items = items_of(map, is_patch, upward);
    link(items);
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (items[i].has_previous) continue;
      LetterLine line = line_from(items, i, upward);
      if (line.letters >= 2.4 || is_pair(items, i)) lines.push_back(std::move(line));
    }
  }
  std::stable_sort(lines.begin(), lines.end(), [](LetterLine const& a, LetterLine const& b) { return a.promise > b.promise; });
  settle(lines, map.blobs.size());
  if (lines.size() > most) lines.resize(most);
  return lines;
}

}  // namespace layright
