#include "tile/cut_map.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdlib>

namespace layright {
namespace {

constexpr double kEdgeWeight = 2;  // of a change against ink: by trials over dense pages
constexpr int kFull = 255;

using PixelColor = std::array<std::uint8_t, 4>;  // red, green and blue on paper, and how opaque

/// Of a picture on nothing, or, where it has no alpha, on paper.
class ColorOfPicture {
 public:
  explicit ColorOfPicture(PagePicture const& picture) : picture_(picture) {}

  PixelColor at(Point<SeenSpace> p) const {
    double const k = picture_.dpi / 72;
    auto const x = static_cast<long>(std::floor((p.x - picture_.area.x0) * k)), y = static_cast<long>(std::floor((picture_.area.y1 - p.y) * k));
    if (x < 0 || y < 0 || x >= picture_.width || y >= picture_.height) return {kFull, kFull, kFull, 0};
    auto const pixel = static_cast<std::size_t>(y) * static_cast<std::size_t>(picture_.width) + static_cast<std::size_t>(x);
    unsigned const alpha = picture_.alpha.empty() ? kFull : picture_.alpha[pixel];
    auto const on_paper = [&](std::size_t i) {
      return static_cast<std::uint8_t>((picture_.rgb[3 * pixel + i] * alpha + kFull * (kFull - alpha) + kFull / 2) / kFull);
    };
    return {on_paper(0), on_paper(1), on_paper(2), static_cast<std::uint8_t>(alpha)};
  }

 private:
  PagePicture const& picture_;
};

std::uint8_t difference(PixelColor const& a, PixelColor const& b) {
  int most = 0;
  for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(a[i] - b[i]));
  return static_cast<std::uint8_t>(most);
}

std::size_t pixel_of(CutMap const& map, int x, int y) {
  return static_cast<std::size_t>(y) * static_cast<std::size_t>(map.width) + static_cast<std::size_t>(x);
}

/// Sums of lines of pixels made costs of cuts between them: a cut meets half of each of its neighbors.
CutCosts between_lines(std::vector<double> const& lines) {
  CutCosts costs(lines.size() + 1);
  for (std::size_t i = 0; i < costs.size(); ++i) costs[i] = (lines[i == 0 ? 0 : i - 1] + lines[std::min(i, lines.size() - 1)]) / 2;
  return costs;
}

}  // namespace

CutMap cut_map(PagePicture const& picture, Rect<SeenSpace> const& art, Matrix<SeenSpace, SeenSpace> const& to_drawn, int width, int height,
               bool white_prints) {
  CutMap map{width, height, {}, {}, {}};
  auto const count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  map.ink.resize(count);
  map.right.resize(count);
  map.below.resize(count);
  ColorOfPicture const colors(picture);
  std::vector<PixelColor> above(static_cast<std::size_t>(width)), row(static_cast<std::size_t>(width));
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      Point<SeenSpace> const p{art.x0 + (x + 0.5) * art.width() / width, art.y1 - (y + 0.5) * art.height() / height};
      auto color = colors.at(to_drawn.apply(p));
      int const ink = white_prints ? color[3] : kFull - std::min({color[0], color[1], color[2]});
      if (!white_prints) color[3] = 0;  // clear and white are the same then
      map.ink[pixel_of(map, x, y)] = static_cast<std::uint8_t>(ink);
      row[static_cast<std::size_t>(x)] = color;
      if (x > 0) map.right[pixel_of(map, x - 1, y)] = difference(row[static_cast<std::size_t>(x - 1)], color);
      if (y > 0) map.below[pixel_of(map, x, y - 1)] = difference(above[static_cast<std::size_t>(x)], color);
    }
    above.swap(row);
  }
  return map;
}

CutCosts costs_across(CutMap const& map, int top, int bottom) {
  std::vector<double> columns(static_cast<std::size_t>(map.width));
  for (int y = top; y < bottom; ++y)
    for (int x = 0; x < map.width; ++x) {
      auto const pixel = pixel_of(map, x, y);
      columns[static_cast<std::size_t>(x)] += (map.ink[pixel] + (y + 1 < bottom ? kEdgeWeight * map.below[pixel] : 0)) / kFull;
    }
  return between_lines(columns);
}

CutCosts costs_down(CutMap const& map, int left, int right) {
  std::vector<double> rows(static_cast<std::size_t>(map.height));
  for (int y = 0; y < map.height; ++y)
    for (int x = left; x < right; ++x) {
      auto const pixel = pixel_of(map, x, y);
      rows[static_cast<std::size_t>(y)] += (map.ink[pixel] + (x + 1 < right ? kEdgeWeight * map.right[pixel] : 0)) / kFull;
    }
  return between_lines(rows);
}

CutCosts over_band(CutCosts const& costs, double band) {
  auto const half = static_cast<std::size_t>(std::lround(band / 2));
  if (half == 0) return costs;
  std::vector<double> sums{0};
  for (double const cost : costs) sums.push_back(sums.back() + cost);
  CutCosts means(costs.size());
  for (std::size_t i = 0; i < costs.size(); ++i) {
    auto const first = i < half ? 0 : i - half, end = std::min(i + half + 1, costs.size());
    means[i] = (sums[end] - sums[first]) / static_cast<double>(end - first);
  }
  return means;
}

}  // namespace layright
