// Discs are fitted by shifting whole rows of bits, 64 pixels at a time: exact, and much cheaper than a distance for each pixel.
#include "raster/weed_scan.h"

#include <algorithm>
#include <bit>
#include <cmath>

#include "raster/weed_pieces.h"

namespace layright {
namespace {

using Word = std::uint64_t;
constexpr int kBlockRows = 256;  // looked at at once, beside what is needed above and below
constexpr int kBits = 64;

struct Bits {
  int rows = 0, words = 0;
  std::vector<Word> data;
  Bits(int r, int w) : rows(r), words(w), data(static_cast<std::size_t>(r) * static_cast<std::size_t>(w)) {}
  Word* row(int y) { return data.data() + static_cast<std::ptrdiff_t>(y) * words; }
  Word const* row(int y) const { return data.data() + static_cast<std::ptrdiff_t>(y) * words; }
  void fill(Word word) { std::ranges::fill(data, word); }
};

/// What lies `by` (under 64) pixels to the right of, or to the left of, each pixel of a word.
Word from_right(Word const* row, int i, int words, int by) {
  if (by == 0) return row[i];
  return row[i] >> by | (i + 1 < words ? row[i + 1] << (kBits - by) : 0);
}
Word from_left(Word const* row, int i, int by) {
  if (by == 0) return row[i];
  return row[i] << by | (i > 0 ? row[i - 1] >> (kBits - by) : 0);
}

/// Where this and the next length - 1 pixels are all set.
void all_of_run(Word const* in, Word* out, int words, int length) {
  std::copy_n(in, words, out);
  for (int have = 1; have < length;) {
    int const step = std::min(have, length - have);
    for (int i = 0; i < words; ++i) out[i] &= from_right(out, i, words, step);
    have += step;
  }
}

/// Where this or one of the length - 1 pixels before is set.
void any_of_run(Word const* in, Word* out, int words, int length) {
  std::copy_n(in, words, out);
  for (int have = 1; have < length;) {
    int const step = std::min(have, length - have);
    for (int i = words - 1; i >= 0; --i) out[i] |= from_left(out, i, step);
    have += step;
  }
}

std::vector<int> lengths_of(std::vector<DiscRow> const& disc) {
  std::vector<int> lengths;
  for (auto const& row : disc)
    if (std::ranges::find(lengths, row.length) == lengths.end()) lengths.push_back(row.length);
  return lengths;
}

/// Where the disc fits, marked at the upper left corner of its square.
void fit(Bits const& in, std::vector<DiscRow> const& disc, Bits& runs, Bits& out) {
  out.fill(~Word{0});
  for (int const length : lengths_of(disc)) {
    for (int y = 0; y < in.rows; ++y) all_of_run(in.row(y), runs.row(y), in.words, length);
    for (int j = 0; j < static_cast<int>(disc.size()); ++j) {
      auto const& part = disc[static_cast<std::size_t>(j)];
      if (part.length != length) continue;
      for (int y = 0; y < in.rows; ++y) {
        Word* const to = out.row(y);
        if (y + j >= in.rows) {
          std::fill_n(to, in.words, Word{0});
          continue;
        }
        Word const* const from = runs.row(y + j);
        for (int i = 0; i < in.words; ++i) to[i] &= from_right(from, i, in.words, part.from);
      }
    }
  }
}

/// What the discs at these corners cover.
void cover(Bits const& corners, std::vector<DiscRow> const& disc, Bits& runs, Bits& out) {
  out.fill(0);
  for (int const length : lengths_of(disc)) {
    for (int y = 0; y < corners.rows; ++y) any_of_run(corners.row(y), runs.row(y), corners.words, length);
    for (int j = 0; j < static_cast<int>(disc.size()); ++j) {
      auto const& part = disc[static_cast<std::size_t>(j)];
      if (part.length != length) continue;
      for (int y = j; y < corners.rows; ++y) {
        Word const* const from = runs.row(y - j);
        Word* const to = out.row(y);
        for (int i = 0; i < corners.words; ++i) to[i] |= from_left(from, i, part.from);
      }
    }
  }
}

/// One step from what is reached to its neighbours, inside what is marked.
void spread(Bits const& marked, Bits const& from, Bits& column, Bits& to, bool corners) {
  int const words = from.words;
  for (int y = 0; y < from.rows; ++y) {
    Word const* const here = from.row(y);
    Word const* const above = y > 0 ? from.row(y - 1) : here;
    Word const* const below = y + 1 < from.rows ? from.row(y + 1) : here;
    Word* const upright = column.row(0);
    for (int i = 0; i < words; ++i) upright[i] = here[i] | above[i] | below[i];
    Word const* const sideways = corners ? upright : here;
    Word const* const inside = marked.row(y);
    Word* const out = to.row(y);
    for (int i = 0; i < words; ++i) out[i] = inside[i] & (upright[i] | from_right(sideways, i, words, 1) | from_left(sideways, i, 1));
  }
}

bool any_in(Word const* row, int x0, int x1) {
  int const first = x0 / kBits, last = (x1 - 1) / kBits;
  Word const head = ~Word{0} << (x0 % kBits), tail = ~Word{0} >> (kBits - 1 - (x1 - 1) % kBits);
  if (first == last) return (row[first] & head & tail) != 0;
  if ((row[first] & head) != 0 || (row[last] & tail) != 0) return true;
  return std::any_of(row + first + 1, row + last, [](Word w) { return w != 0; });
}

template <class Each>
void each_run(Word const* row, int words, Each&& each) {
  int open = -1;
  for (int i = 0; i < words; ++i) {
    for (int at = 0;;) {
      Word const ahead = (open < 0 ? row[i] : ~row[i]) >> at;
      if (ahead == 0) break;
      at += std::countr_zero(ahead);
      int const x = i * kBits + at;
      if (open >= 0) each(open, x);
      open = open < 0 ? x : -1;
    }
  }
  if (open >= 0) each(open, words * kBits);
}

}  // namespace

std::vector<DiscRow> weed_disc(int width) {
  std::vector<DiscRow> rows;
  double const middle = (width - 1) / 2.0;
  for (int j = 0; j < width; ++j) {
    double const half = std::sqrt(width * width / 4.0 - (j - middle) * (j - middle));
    int const from = static_cast<int>(std::ceil(middle - half - 1e-9));
    rows.push_back({from, width - 2 * from});
  }
  return rows;
}

struct WeedScan::Members {
  WeedRules rules;
  int reach;  // steps from what the discs cover, beyond which a thin part counts
  int halo;   // rows above and below that decide about one
  int words;
  int base;                       // the picture's row that is the buffer's first
  int have = 0, rows = 0;         // in the buffer; of the picture
  long found = 0, looked_at = 0;  // pieces; runs of pixels
  Bits marked, runs, corners, covered, touching, reached, next, column;
  std::vector<Bits> fitting;  // of each lesser width: where its middle lies in a far part
  WeedPieces whole, thin;
  std::vector<WeedRun> found_whole, found_thin;

  static int reach_of(WeedRules const& r) { return r.diagonals ? r.width : static_cast<int>(std::ceil(r.width * 1.41421356)); }
  static int halo_of(WeedRules const& r) { return reach_of(r) + 2 * r.width; }

  Members(int width, WeedRules r, std::function<void(WeedPiece const&)> const& report, std::function<void(WeedPiece const&)> const& see)
      : rules(r),
        reach(reach_of(r)),
        halo(halo_of(r)),
        words((width + kBits - 1) / kBits),
        base(-halo),
        have(halo),
        marked(kBlockRows + 2 * halo, words),
        runs(marked),
        corners(marked),
        covered(marked),
        touching(marked),
        reached(marked),
        next(marked),
        column(1, words),
        whole(r.diagonals,
              [this, report, see](JoinedPiece const& p) {  // what no disc covers is reported as thin
                if (see) see({p.x0, p.y0, p.x1, p.y1, p.area, 0});
                if (!p.marked || static_cast<double>(p.area) >= rules.area) return;
                ++found;
                report({p.x0, p.y0, p.x1, p.y1, p.area, 0});
              }),
        thin(r.diagonals, [this, report](JoinedPiece const& p) {
          if (!p.marked || (p.held && std::hypot(p.x1 - p.x0, p.y1 - p.y0) < rules.length)) return;
          ++found;
          report({p.x0, p.y0, p.x1, p.y1, p.area, p.width});
        }) {}

  void find_reached() {
    std::ranges::copy(covered.data, reached.data.begin());
    for (int step = 0; step < reach; ++step) {
      spread(marked, reached, column, next, rules.diagonals && step % 2 == 0);  // steps by turns: nearly a circle
      std::swap(reached, next);
      if (step == 0) std::ranges::copy(reached.data, touching.data.begin());
    }
  }

  /// Of each width under the limit, where its disc fits with its middle in a far part.
  void find_widths() {
    while (static_cast<int>(fitting.size()) < rules.width - 2) fitting.emplace_back(marked.rows, words);
    for (int width = 2; width < rules.width; ++width) {
      Bits& out = fitting[static_cast<std::size_t>(width - 2)];
      fit(marked, weed_disc(width), runs, corners);
      int const middle = (width - 1) / 2;
      out.fill(0);
      for (int y = middle; y < out.rows; ++y)
        for (int i = 0; i < words; ++i) out.row(y)[i] = from_left(corners.row(y - middle), i, middle) & ~reached.row(y)[i];
    }
  }

  int width_in(int y, int x0, int x1) const {
    for (int width = rules.width - 1; width >= 2; --width)
      if (any_in(fitting[static_cast<std::size_t>(width - 2)].row(y), x0, x1)) return width;
    return 1;
  }

  void look() {
    if (std::ranges::all_of(marked.data, [](Word w) { return w == 0; })) {
      for (int y = halo; y < halo + kBlockRows && base + y < rows; ++y) {
        whole.row(base + y, {});
        thin.row(base + y, {});
      }
      return;
    }
    auto const disc = weed_disc(rules.width);
    fit(marked, disc, runs, corners);
    cover(corners, disc, runs, covered);
    find_reached();
    for (std::size_t i = 0; i < reached.data.size(); ++i) next.data[i] = marked.data[i] & ~reached.data[i];  // the far parts
    bool const some = std::any_of(next.row(halo), next.row(halo) + kBlockRows * words, [](Word w) { return w != 0; });
    if (some) find_widths();
    for (int y = halo; y < halo + kBlockRows && base + y < rows; ++y) {
      found_whole.clear();
      found_thin.clear();
      Word const* const cover_row = covered.row(y);
      each_run(marked.row(y), words, [&](int x0, int x1) { found_whole.push_back({x0, x1, 0, any_in(cover_row, x0, x1)}); });
      Word* const rest = column.row(0);
      Word left = 0;
      for (int i = 0; i < words; ++i) left |= rest[i] = marked.row(y)[i] & ~cover_row[i];
      if (left != 0)
        each_run(rest, words, [&](int x0, int x1) {
          bool const far = some && any_in(next.row(y), x0, x1);
          found_thin.push_back({x0, x1, far ? width_in(y, x0, x1) : 0, far, any_in(touching.row(y), x0, x1)});
        });
      looked_at += static_cast<long>(found_whole.size() + found_thin.size());
      whole.row(base + y, found_whole);
      thin.row(base + y, found_thin);
    }
  }

  void take(Word const* bits) {
    if (bits) std::copy_n(bits, words, marked.row(have));
    else std::fill_n(marked.row(have), words, Word{0});
    if (++have < marked.rows) return;
    look();
    std::copy(marked.row(kBlockRows), marked.row(kBlockRows) + 2 * halo * words, marked.row(0));
    base += kBlockRows;
    have = 2 * halo;
  }
};

WeedScan::WeedScan(int picture_width, WeedRules rules, std::function<void(WeedPiece const&)> const& found,
                   std::function<void(WeedPiece const&)> const& whole)
    : m_(std::make_unique<Members>(picture_width, rules, found, whole)) {}
WeedScan::~WeedScan() = default;

bool WeedScan::full() const { return m_->found >= kMostWeedPieces || m_->looked_at >= kMostWeedRuns; }

std::size_t WeedScan::words() const { return static_cast<std::size_t>(m_->words); }

void WeedScan::row(std::span<std::uint64_t const> bits) {
  ++m_->rows;
  m_->take(bits.data());
}

void WeedScan::stop() {
  int const high = std::max(kBlockRows, m_->rules.length);
  m_->whole.stop(high);
  m_->thin.stop(high);
}

void WeedScan::finish() {
  while (m_->base + m_->halo < m_->rows) m_->take(nullptr);
  m_->whole.finish();
  m_->thin.finish();
}

}  // namespace layright
