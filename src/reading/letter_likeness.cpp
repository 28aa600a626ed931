#include "reading/letter_likeness.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

// Of a letter's height: how far feet may stand apart on one line, and how far heights may differ and be one.
constexpr double kOneLine = 0.09, kOneHeight = 0.12;
// Of its size: how far two blobs may differ and be the same; and the share of a row's blobs from which on it is a pattern.
constexpr double kSame = 0.04, kPattern = 0.85;

struct Item {
  double along, low, high, width, area;
  double height() const { return high - low; }
};

bool near(double a, double b) { return std::abs(a - b) <= kSame * std::max(a, b) + 1; }

/// The items that look like most of them: as wide, as high and as much filled as some one is.
std::size_t most_alike(std::vector<Item> const& items) {
  std::size_t best = 0;
  for (Item const& one : items) {
    auto const same = std::count_if(items.begin(), items.end(), [&](Item const& i) {
      return near(i.width, one.width) && near(i.height(), one.height()) && std::abs(i.area - one.area) <= 2 * kSame * one.area;
    });
    best = std::max(best, static_cast<std::size_t>(same));
  }
  return best;
}

/// Share of the items whose `edge` lies near a straight line through two of them: the best of the lines through pairs.
template <class Edge>
double on_one_line(std::vector<Item> const& items, double size, Edge&& edge) {
  std::size_t best = 1;
  std::size_t const step = std::max<std::size_t>(1, items.size() / 12);
  for (std::size_t i = 0; i < items.size(); i += step)
    for (std::size_t j = i + 1; j < items.size(); j += step) {
      double const run = items[j].along - items[i].along;
      if (run <= 0) continue;
      double const slope = (edge(items[j]) - edge(items[i])) / run;
      auto const near = std::count_if(items.begin(), items.end(), [&](Item const& k) {
        return std::abs(edge(k) - edge(items[i]) - slope * (k.along - items[i].along)) <= kOneLine * size;
      });
      best = std::max(best, static_cast<std::size_t>(near));
    }
  return static_cast<double>(best) / static_cast<double>(items.size());
}

}  // namespace

LineLikeness likeness_of(LetterLine const& line, BlobMap const& map) {
  LineLikeness l;
  std::vector<Item> items;
  for (int b : line.blobs) {
    Blob const& blob = map.blobs[static_cast<std::size_t>(b)];
    if (line.upward)
      items.push_back({(blob.y0 + blob.y1) / 2.0, static_cast<double>(blob.x0), static_cast<double>(blob.x1), static_cast<double>(blob.height()),
                       static_cast<double>(blob.area)});
    else
      items.push_back({(blob.x0 + blob.x1) / 2.0, static_cast<double>(blob.y0), static_cast<double>(blob.y1), static_cast<double>(blob.width()),
                       static_cast<double>(blob.area)});
  }
  l.blobs = items.size();
  l.bar = items.size() == 1 && !of_strokes(line.blobs[0], map);
  if (items.size() < 2) return l;
  l.pattern = static_cast<double>(most_alike(items)) >= kPattern * static_cast<double>(items.size());
  double const size = std::max(line.size, 1.0);
  l.aligned = std::max(on_one_line(items, size, [](Item const& i) { return i.low; }), on_one_line(items, size, [](Item const& i) { return i.high; }));
  // The two commonest heights: of small letters, and of those with stems.
  std::vector<bool> taken(items.size(), false);
  std::size_t alike = 0;
  for (int round = 0; round < 2; ++round) {
    std::size_t most = 0, of = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
      std::size_t count = 0;
      for (std::size_t j = 0; j < items.size(); ++j)
        if (!taken[j] && std::abs(items[i].height() - items[j].height()) <= kOneHeight * size) ++count;
      if (!taken[i] && count > most) most = count, of = i;
    }
    if (most == 0) break;
    alike += most;
    for (std::size_t j = 0; j < items.size(); ++j)
      if (std::abs(items[of].height() - items[j].height()) <= kOneHeight * size) taken[j] = true;
  }
  l.heights = static_cast<double>(alike) / static_cast<double>(items.size());
  return l;
}

bool of_strokes(int blob, BlobMap const& map) {
  Blob const& b = map.blobs[static_cast<std::size_t>(blob)];
  auto const begin = map.runs.begin() + static_cast<std::ptrdiff_t>(map.rows[static_cast<std::size_t>(b.y0)]);
  auto const end = map.runs.begin() + static_cast<std::ptrdiff_t>(map.rows[static_cast<std::size_t>(b.y1)]);
  auto const runs = std::count_if(begin, end, [&](BlobRun const& run) { return run.blob == blob; });
  return static_cast<double>(runs) >= 1.5 * b.height() && static_cast<double>(b.area) <= 0.5 * b.width() * b.height();
}

bool looks_like_letters(LineLikeness const& l) { return !l.pattern && l.blobs >= 4 && l.aligned >= 0.7 && l.heights >= 0.8; }

}  // namespace layright
