#include "reading/letter_ways.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>
#include <vector>

#include "reading/letter_ways_table.h"

namespace layright {
namespace {

constexpr int kSide = kWaysSide;
using Square = std::array<float, static_cast<std::size_t>(kSide) * kSide>;

// Our own, argued: strips are 44 pixels high, 36 of them letters.
constexpr int kInked = 100;  // of 255, from which a pixel belongs to a letter
constexpr long kLeastPixels = 12;
constexpr double kSameColumn = 0.5;   // of the narrower one's width that two pieces of one letter share
constexpr double kLeastHeight = 0.5;  // of the highest glyph: lower ones are dots, dashes and crumbs
constexpr double kWidest = 1.5;       // times as wide as high: letters that hang together
constexpr double kAlike = 0.85;       // correlation of two shapes that are the same letter again, or the same ornament
constexpr double kSeenAgain = 1.25;   // what such a letter counts that comes again, however often
constexpr double kEven = 0.12;        // of the height by which tops and feet of even glyphs may differ

/// One letter: pieces that stand above each other or in each other.
struct Glyph {
  int x0, y0, x1, y1;  // x1, y1 are beyond
  std::vector<int> pieces;
  int width() const { return x1 - x0; }
  int height() const { return y1 - y0; }
};

/// Numbers the pieces that hang together (corners too), from 1; 0 is ground.
std::vector<int> label(GreyPicture const& strip, std::vector<Glyph>& pieces) {
  std::vector<int> labels(strip.pixels.size(), 0);
  std::vector<std::pair<int, int>> open;
  for (int y = 0; y < strip.height; ++y)
    for (int x = 0; x < strip.width; ++x) {
      auto const index = [&](int px, int py) {
        return static_cast<std::size_t>(py) * static_cast<std::size_t>(strip.width) + static_cast<std::size_t>(px);
      };
      auto const inked = [&](int px, int py) { return 255 - strip.at(px, py) >= kInked && labels[index(px, py)] == 0; };
      if (!inked(x, y)) continue;
      int const number = static_cast<int>(pieces.size()) + 1;
      Glyph piece{x, y, x + 1, y + 1, {number}};
      long area = 0;
      open.assign(1, {x, y});
      labels[index(x, y)] = number;
      while (!open.empty()) {
        auto const [px, py] = open.back();
        open.pop_back();
        ++area;
        piece.x0 = std::min(piece.x0, px), piece.x1 = std::max(piece.x1, px + 1), piece.y0 = std::min(piece.y0, py),
        piece.y1 = std::max(piece.y1, py + 1);
        for (int ny = std::max(0, py - 1); ny <= std::min(strip.height - 1, py + 1); ++ny)
          for (int nx = std::max(0, px - 1); nx <= std::min(strip.width - 1, px + 1); ++nx)
            if (inked(nx, ny)) {
              labels[index(nx, ny)] = number;
              open.emplace_back(nx, ny);
            }
      }
      if (area < kLeastPixels) piece.pieces.clear();
      pieces.push_back(piece);
    }
  return labels;
}

/// Dots and accents go to their letters, and the inner edges of outlined letters.
std::vector<Glyph> glyphs_of(std::vector<Glyph> pieces) {
  std::erase_if(pieces, [](Glyph const& g) { return g.pieces.empty(); });
  for (bool joined = true; joined;) {
    joined = false;
    for (std::size_t i = 0; i < pieces.size() && !joined; ++i)
      for (std::size_t j = i + 1; j < pieces.size() && !joined; ++j) {
        Glyph &a = pieces[i], &b = pieces[j];
        int const shared = std::min(a.x1, b.x1) - std::max(a.x0, b.x0);
        if (shared <= kSameColumn * std::min(a.width(), b.width())) continue;
        a.x0 = std::min(a.x0, b.x0), a.x1 = std::max(a.x1, b.x1), a.y0 = std::min(a.y0, b.y0), a.y1 = std::max(a.y1, b.y1);
        a.pieces.insert(a.pieces.end(), b.pieces.begin(), b.pieces.end());
        pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(j));
        joined = true;
      }
  }
  return pieces;
}

/// The glyph in the middle of a square as large as its longer side: means over the square's cells.
Square square_of(GreyPicture const& strip, std::vector<int> const& labels, Glyph const& glyph) {
  Square cells{};
  double const side = std::max(glyph.width(), glyph.height()), cell = side / kSide;
  double const left = glyph.x0 - (side - glyph.width()) / 2, top = glyph.y0 - (side - glyph.height()) / 2;
  for (int y = glyph.y0; y < glyph.y1; ++y)
    for (int x = glyph.x0; x < glyph.x1; ++x) {
      std::size_t const at = static_cast<std::size_t>(y) * static_cast<std::size_t>(strip.width) + static_cast<std::size_t>(x);
      bool const other = labels[at] != 0 && std::find(glyph.pieces.begin(), glyph.pieces.end(), labels[at]) == glyph.pieces.end();
      double const ink = other ? 0 : (255 - strip.pixels[at]) / 255.0;
      if (ink == 0) continue;
      double const u0 = (x - left) / cell, u1 = (x + 1 - left) / cell, v0 = (y - top) / cell, v1 = (y + 1 - top) / cell;
      for (int v = std::max(0, static_cast<int>(v0)); v < std::min<double>(kSide, v1); ++v)
        for (int u = std::max(0, static_cast<int>(u0)); u < std::min<double>(kSide, u1); ++u) {
          double const covered = (std::min(u1, u + 1.0) - std::max<double>(u0, u)) * (std::min(v1, v + 1.0) - std::max<double>(v0, v));
          cells[static_cast<std::size_t>(v * kSide + u)] += static_cast<float>(ink * covered);
        }
    }
  return cells;
}

template <std::size_t kUnits, std::size_t kInputs>
std::array<float, kUnits> layer(std::array<WaysUnit, kUnits> const& units, std::array<float, kInputs> const& in) {
  std::array<float, kUnits> out{};
  for (std::size_t i = 0; i < kUnits; ++i) {
    float sum = 0;
    for (std::size_t k = 0; k < kInputs; ++k) sum += in[k] * static_cast<float>(way_weight(units[i].weights[k]));
    out[i] = std::max(0.0F, sum * units[i].scale + units[i].bias);
  }
  return out;
}

double upright(Square const& cells) {
  Square in = cells;
  for (float& v : in) v -= kWaysMiddle;
  auto const second = layer(kWaysSecondUnits, layer(kWaysFirstUnits, in));
  double sum = 0;
  for (std::size_t i = 0; i < second.size(); ++i) sum += static_cast<double>(second[i] * kWaysLast[i]);
  return sum;
}

double log_of_sum(double a, double b) { return std::max(a, b) + std::log1p(std::exp(-std::abs(a - b))); }

/// Logarithms of how likely each Way is, in the order of Way.
std::array<double, 4> ways_of(Square const& cells) {
  Square turned{}, reversed{}, reversed_turned{};
  for (std::size_t y = 0; y < kSide; ++y)
    for (std::size_t x = 0; x < kSide; ++x) {
      float const v = cells[y * kSide + x];
      reversed[y * kSide + kSide - 1 - x] = v;
      reversed_turned[(kSide - 1 - y) * kSide + x] = v;
      turned[(kSide - 1 - y) * kSide + kSide - 1 - x] = v;
    }
  std::array<double, 4> ways{upright(cells), upright(turned), upright(reversed), upright(reversed_turned)};
  double const all = log_of_sum(log_of_sum(ways[0], ways[1]), log_of_sum(ways[2], ways[3]));
  for (double& w : ways) w -= all;
  return ways;
}

double correlation(Square const& a, Square const& b) {
  auto const mean = [](Square const& s) { return std::accumulate(s.begin(), s.end(), 0.0) / static_cast<double>(s.size()); };
  double const ma = mean(a), mb = mean(b);
  double ab = 0, aa = 0, bb = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    double const da = static_cast<double>(a[i]) - ma, db = static_cast<double>(b[i]) - mb;
    ab += da * db, aa += da * da, bb += db * db;
  }
  return aa > 0 && bb > 0 ? ab / std::sqrt(aa * bb) : 0;
}

/// Shapes that are the same, which are no two witnesses, and what they say together.
struct Kind {
  Square shape;
  int count = 0;
  std::array<double, 4> ways{};
};

bool are_even(std::vector<Glyph> const& glyphs) {
  auto const [top, low_top] = std::minmax_element(glyphs.begin(), glyphs.end(), [](Glyph const& a, Glyph const& b) { return a.y0 < b.y0; });
  auto const [high_foot, foot] = std::minmax_element(glyphs.begin(), glyphs.end(), [](Glyph const& a, Glyph const& b) { return a.y1 < b.y1; });
  double const most = kEven * (foot->y1 - top->y0);
  return low_top->y0 - top->y0 <= most && foot->y1 - high_foot->y1 <= most;
}

/// How surely the second surest of those that stand, and of those that stand on their heads, does so; reversed or not.
double turned_among(std::vector<Kind> const& kinds) {
  std::vector<double> stands;
  for (Kind const& kind : kinds) stands.push_back((log_of_sum(kind.ways[0], kind.ways[2]) - log_of_sum(kind.ways[1], kind.ways[3])) / kind.count);
  if (stands.size() < 4) return 0;
  std::sort(stands.begin(), stands.end());
  return std::max(0.0, std::min(stands[stands.size() - 2], -stands[1]));
}

}  // namespace

double ShapesSaid::right() const { return log_of_sum(ways[0], ways[1]) - log_of_sum(ways[2], ways[3]); }

int ShapesSaid::way() const { return static_cast<int>(std::max_element(ways.begin(), ways.end()) - ways.begin()); }

ShapesSaid shapes_of(GreyPicture const& strip) {
  ShapesSaid said;
  std::vector<Glyph> pieces;
  std::vector<int> const labels = label(strip, pieces);
  std::vector<Glyph> glyphs = glyphs_of(pieces);
  int highest = 0;
  for (Glyph const& g : glyphs) highest = std::max(highest, g.height());
  std::erase_if(glyphs, [&](Glyph const& g) { return g.height() < kLeastHeight * highest || g.width() > kWidest * g.height(); });
  if (glyphs.empty()) return said;
  said.glyphs = static_cast<int>(glyphs.size());
  said.even = are_even(glyphs);
  std::vector<Kind> kinds;
  for (Glyph const& glyph : glyphs) {
    Square const shape = square_of(strip, labels, glyph);
    auto kind = std::find_if(kinds.begin(), kinds.end(), [&](Kind const& k) { return correlation(k.shape, shape) >= kAlike; });
    if (kind == kinds.end()) kind = kinds.insert(kind, Kind{shape});
    ++kind->count;
    std::array<double, 4> const ways = ways_of(shape);
    for (std::size_t i = 0; i < 4; ++i) kind->ways[i] += ways[i];
  }
  said.kinds = static_cast<int>(kinds.size());
  if (said.even) said.turned = turned_among(kinds);
  for (Kind const& kind : kinds)
    for (std::size_t i = 0; i < 4; ++i) said.ways[i] += kind.ways[i] / kind.count * (kind.count > 1 ? kSeenAgain : 1);
  return said;
}

}  // namespace layright
