#include "raster/weed_text.h"

#include <algorithm>
#include <cstdlib>
#include <numeric>

namespace layright {
namespace {

// All our own, in parts of an em of common faces (from memory: small letters are 0.4 to 0.55 high, capitals 0.6 to 0.75).
constexpr double kLeastLetter = 0.36, kLeastTallest = 0.58;
constexpr double kLargestLetter = 24;  // points: larger text is art, and its details can be drawn
constexpr std::size_t kMostLetters = 60'000;
constexpr std::size_t kMostFound = 5000;  // more is a texture, and no text
constexpr int kLeastLetters = 5;          // of a row
constexpr int kFewOf = 3;                 // one of so many letters may have something fine
constexpr double kGap = 3.2;              // between letters and words, also about a dash, in heights of the taller
constexpr double kOverlap = 0.5;          // of the lower one's height
constexpr int kSizes = 3;                 // the taller is at most so many times as high

int overlap(int a0, int a1, int b0, int b1) { return std::min(a1, b1) - std::max(a0, b0); }

bool side_by_side(WeedBox const& a, WeedBox const& b) {
  int const low = std::min(a.height(), b.height()), high = std::max(a.height(), b.height());
  return high <= kSizes * low && overlap(a.y0, a.y1, b.y0, b.y1) >= kOverlap * low && -overlap(a.x0, a.x1, b.x0, b.x1) <= kGap * high;
}

WeedBox turned(WeedBox const& b) { return {b.y0, b.x0, b.y1, b.x1}; }

struct Joined {
  std::vector<int> parent;
  explicit Joined(std::size_t n) : parent(n) { std::iota(parent.begin(), parent.end(), 0); }
  int root(int i) {
    while (parent[static_cast<std::size_t>(i)] != i)
      i = parent[static_cast<std::size_t>(i)] = parent[static_cast<std::size_t>(parent[static_cast<std::size_t>(i)])];
    return i;
  }
};

/// Joins boxes that stand side by side; they are sorted by x0. `reach`: farther than any can be from the next.
template <class Side>
void join(std::vector<WeedBox> const& boxes, int reach, Joined& joined, Side&& side) {
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    constexpr std::size_t kMostLooks = 400;
    for (std::size_t j = i + 1, looks = 0; j < boxes.size() && looks < kMostLooks && boxes[j].x0 <= boxes[i].x1 + reach; ++j, ++looks)
      if (side(boxes[i], boxes[j])) joined.parent[static_cast<std::size_t>(joined.root(static_cast<int>(j)))] = joined.root(static_cast<int>(i));
  }
}

}  // namespace

void WeedRows::add(WeedBox const& piece) {
  double const least = kLeastLetter * kLeastTextEm * point_, most = kLargestLetter * point_;
  int const longer = std::max(piece.width(), piece.height());
  if (longer < least || std::min(piece.width(), piece.height()) > most || longer > 12 * most || letters_.size() >= kMostLetters) return;
  letters_.push_back(piece);
}

bool WeedRows::is_text(Row const& row) const { return row.letters >= kLeastLetters && row.tallest >= kLeastTallest * kLeastTextEm * point_; }

void WeedRows::find_rows() {
  rows_known_ = true;
  for (bool const upright : {true, false}) {
    std::vector<WeedBox> boxes = letters_;
    if (!upright) std::ranges::transform(boxes, boxes.begin(), turned);
    double const least = kLeastLetter * kLeastTextEm * point_, most = kLargestLetter * point_;
    std::erase_if(boxes, [&](WeedBox const& b) { return b.height() < least || b.height() > most; });
    // In bands of the height of the largest letter: what stands side by side lies in one band, or in two that touch.
    int const band = std::max(1, static_cast<int>(most));
    std::ranges::sort(boxes,
                      [&](WeedBox const& a, WeedBox const& b) { return a.y0 / band != b.y0 / band ? a.y0 / band < b.y0 / band : a.x0 < b.x0; });
    Joined joined(boxes.size());
    std::vector<WeedBox> near;
    std::vector<int> which;
    std::size_t from = 0;
    while (from < boxes.size()) {
      int const y = boxes[from].y0 / band;
      std::size_t end = from, next = from;
      while (end < boxes.size() && boxes[end].y0 / band == y) ++end;
      for (next = end; next < boxes.size() && boxes[next].y0 / band == y + 1;) ++next;
      std::vector<std::size_t> order(next - from);
      std::iota(order.begin(), order.end(), from);
      std::ranges::sort(order, {}, [&](std::size_t i) { return boxes[i].x0; });
      near.clear();
      for (std::size_t const i : order) near.push_back(boxes[i]);
      Joined here(near.size());
      join(near, static_cast<int>(kGap * most), here, side_by_side);
      for (std::size_t i = 0; i < near.size(); ++i) {
        auto const other = static_cast<std::size_t>(here.root(static_cast<int>(i)));
        joined.parent[static_cast<std::size_t>(joined.root(static_cast<int>(order[i])))] = joined.root(static_cast<int>(order[other]));
      }
      from = end;
    }
    std::vector<int> row_of(boxes.size(), -1);
    std::vector<Row> rows;
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      int& at = row_of[static_cast<std::size_t>(joined.root(static_cast<int>(i)))];
      WeedBox const& b = boxes[i];
      if (at < 0) {
        at = static_cast<int>(rows.size());
        rows.push_back({b, 0, 0, 0});
      }
      Row& row = rows[static_cast<std::size_t>(at)];
      row.box = {std::min(row.box.x0, b.x0), std::min(row.box.y0, b.y0), std::max(row.box.x1, b.x1), std::max(row.box.y1, b.y1)};
      ++row.letters;
      row.tallest = std::max(row.tallest, b.height());
    }
    for (Row& row : rows) {
      if (!is_text(row)) continue;
      if (!upright) row.box = turned(row.box);
      rows_.push_back(row);
    }
  }
}

/// With dots above, signs below and dashes beside them.
int WeedRows::row_of(WeedPiece const& piece) const {
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    Row const& row = rows_[i];
    int const rim = row.tallest * 3 / 4, most = row.tallest * 9 / 5;
    bool const near = piece.x1 >= row.box.x0 - rim && piece.x0 <= row.box.x1 + rim && piece.y1 >= row.box.y0 - rim && piece.y0 <= row.box.y1 + rim;
    if (near && piece.x1 - piece.x0 <= most && piece.y1 - piece.y0 <= most) return static_cast<int>(i);
  }
  return -1;
}

void WeedRows::take_out(std::vector<WeedPiece>& found) {
  if (found.empty() || found.size() > kMostFound) return;
  if (!rows_known_) find_rows();
  std::vector<int> rows;
  rows.reserve(found.size());
  for (Row& row : rows_) row.fine = 0;
  for (auto const& piece : found) {
    rows.push_back(row_of(piece));
    if (rows.back() >= 0) ++rows_[static_cast<std::size_t>(rows.back())].fine;
  }
  std::size_t at = 0;
  std::erase_if(found, [&](WeedPiece const&) {
    int const row = rows[at++];
    return row >= 0 && rows_[static_cast<std::size_t>(row)].fine * kFewOf <= rows_[static_cast<std::size_t>(row)].letters;
  });
}

}  // namespace layright
