#include "raster/blobs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace layright {
namespace {

// Our own, argued: a word of small print on a full sheet is about a hundred-thousandth of its pixels; two inks nearer than 14 of 255
// are hardly told apart by eye.
constexpr double kLeastShare = 2e-5;
constexpr int kNearest = 14, kPeakReach = 8;
constexpr int kOnePaper = 64;  // two commonest colours so near can both be a scan's paper, and what lies between them parts no letters from it
constexpr double kValley =
    0.5;  // of the lower peak's height: no deeper between two, they are one colour, unevenly lit or grained, as paper in a scan

using Histogram = std::array<double, 256>;

Histogram smooth_histogram(GreyPicture const& channel) {
  std::array<long, 256> raw{};
  for (std::uint8_t v : channel.pixels) ++raw[v];
  Histogram h{};
  constexpr int kKernel[] = {1, 2, 3, 2, 1};
  for (int v = 0; v < 256; ++v)
    for (int k = -2; k <= 2; ++k)
      h[static_cast<std::size_t>(std::clamp(v + k, 0, 255))] += static_cast<double>(raw[static_cast<std::size_t>(v)] * kKernel[k + 2]) / 9;
  return h;
}

struct Peak {
  int level;
  double mass;
};

/// Of two peaks without a valley between them the lower one goes.
void drop_ripples(Histogram const& h, std::vector<Peak>& peaks) {
  auto const height = [&](Peak const& p) { return h[static_cast<std::size_t>(p.level)]; };
  for (std::size_t i = 0; i + 1 < peaks.size();) {
    Peak const &a = peaks[i], &b = peaks[i + 1];
    double const lowest = *std::min_element(h.begin() + a.level, h.begin() + b.level);
    if (lowest <= kValley * std::min(height(a), height(b))) {
      ++i;
      continue;
    }
    peaks.erase(peaks.begin() + static_cast<std::ptrdiff_t>(height(a) < height(b) ? i : i + 1));
    i = i > 0 ? i - 1 : 0;
  }
}

std::vector<Peak> peaks_of(Histogram const& h, double pixels) {
  std::vector<Peak> peaks;
  for (int v = 0; v < 256; ++v) {
    int const from = std::max(0, v - kPeakReach), to = std::min(255, v + kPeakReach);
    auto const begin = h.begin() + from, end = h.begin() + to + 1;
    if (h[static_cast<std::size_t>(v)] <= 0 || std::max_element(begin, end) - h.begin() != v) continue;
    double const mass = std::accumulate(begin, end, 0.0);
    if (mass >= std::max(30.0, kLeastShare * pixels)) peaks.push_back({v, mass});
  }
  drop_ripples(h, peaks);
  return peaks;
}

int otsu(Histogram const& h, double pixels) {
  double sum = 0, below = 0, sum_below = 0, best = -1;
  int from = 128, to = 128;  // equally good ones lie between two colours that do not mix
  for (int v = 0; v < 256; ++v) sum += v * h[static_cast<std::size_t>(v)];
  for (int v = 0; v < 255; ++v) {
    below += h[static_cast<std::size_t>(v)];
    sum_below += v * h[static_cast<std::size_t>(v)];
    double const above = pixels - below;
    if (below <= 0 || above <= 0) continue;
    double const apart = sum_below / below - (sum - sum_below) / above, between = below * above * apart * apart;
    if (between > best * (1 + 1e-9)) from = v + 1;
    if (between >= best) best = between;
    if (between >= best * (1 - 1e-9)) to = v + 1;
  }
  return (from + to) / 2;
}

int root_of(std::vector<int>& parent, int i) {
  while (parent[static_cast<std::size_t>(i)] != i) {
    parent[static_cast<std::size_t>(i)] = parent[static_cast<std::size_t>(parent[static_cast<std::size_t>(i)])];
    i = parent[static_cast<std::size_t>(i)];
  }
  return i;
}

/// Cuts each row into runs and joins those that touch a run of the same kind in the row above. False when there are too many.
bool label(GreyPicture const& channel, int threshold, std::size_t most_runs, BlobMap& map, std::vector<int>& parent, std::vector<bool>& light) {
  for (int y = 0; y < map.height; ++y) {
    map.rows.push_back(map.runs.size());
    std::uint8_t const* const row = channel.pixels.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(map.width);
    std::size_t above = y > 0 ? map.rows[static_cast<std::size_t>(y - 1)] : 0;
    std::size_t const above_end = y > 0 ? map.rows[static_cast<std::size_t>(y)] : 0;
    for (int x = 0; x < map.width;) {
      bool const is_light = row[x] >= threshold;
      int end = x + 1;
      while (end < map.width && (row[end] >= threshold) == is_light) ++end;
      int id = -1;
      while (above < above_end && map.runs[above].x1 <= x) ++above;
      for (std::size_t a = above; a < above_end && map.runs[a].x0 < end; ++a) {
        int const other = root_of(parent, map.runs[a].blob);
        if (light[static_cast<std::size_t>(other)] != is_light) continue;
        if (id < 0) {
          id = other;
        } else if (other != id) {
          parent[static_cast<std::size_t>(std::max(other, id))] = std::min(other, id);
          id = std::min(other, id);
        }
      }
      if (id < 0) {
        id = static_cast<int>(parent.size());
        parent.push_back(id);
        light.push_back(is_light);
      }
      map.runs.push_back({y, x, end, id});
      if (map.runs.size() > most_runs) return false;
      x = end;
    }
  }
  map.rows.push_back(map.runs.size());
  return true;
}

}  // namespace

int screen_pitch(GreyPicture const& picture) {
  constexpr int kWidest = 40, kNarrowest = 3;
  int const level = otsu(smooth_histogram(picture), static_cast<double>(picture.pixels.size()));
  std::array<std::array<long, kWidest + 1>, 2> counts{};  // of distances from edge to like edge, across and down
  auto const walk = [&](bool down) {
    int const lines = down ? picture.width : picture.height, length = down ? picture.height : picture.width;
    for (int line = 0; line < lines; line += 2) {
      int last = -1;
      for (int i = 1; i < length; ++i) {
        bool const before = (down ? picture.at(line, i - 1) : picture.at(i - 1, line)) < level,
                   now = (down ? picture.at(line, i) : picture.at(i, line)) < level;
        if (before || !now) continue;
        if (last >= 0 && i - last <= kWidest) ++counts[down ? 1 : 0][static_cast<std::size_t>(i - last)];
        last = i;
      }
    }
  };
  walk(false), walk(true);
  int best = 0;
  long most = 0;
  for (auto const& distances : counts) {
    long const all = std::accumulate(distances.begin(), distances.end(), 0L);
    for (int d = kNarrowest; d < kWidest; ++d) {
      auto const at = distances.begin() + d;
      long const near = std::accumulate(at - 1, at + 2, 0L);
      if (near + *at > most && 2 * near > all && near > picture.width / 2) best = d, most = near + *at;
    }
  }
  return best;
}

GreyPicture joined(GreyPicture const& picture, int side) {
  GreyPicture out = picture;
  std::vector<long> sums;
  auto const pass = [&](int lines, int length, std::size_t from_line, std::size_t from_pixel) {
    for (int line = 0; line < lines; ++line) {
      std::uint8_t* const first = out.pixels.data() + static_cast<std::size_t>(line) * from_line;
      sums.assign(1, 0);
      for (int i = 0; i < length; ++i) sums.push_back(sums.back() + first[static_cast<std::size_t>(i) * from_pixel]);
      for (int i = 0; i < length; ++i) {
        int const begin = std::max(0, i - side / 2), end = std::min(length, begin + side);
        first[static_cast<std::size_t>(i) * from_pixel] =
            static_cast<std::uint8_t>((sums[static_cast<std::size_t>(end)] - sums[static_cast<std::size_t>(begin)]) / std::max(1, end - begin));
      }
    }
  };
  std::size_t const width = static_cast<std::size_t>(picture.width);
  for (int twice = 0; twice < 2; ++twice) {
    pass(picture.height, picture.width, width, 1);
    pass(picture.width, picture.height, 1, width);
  }
  return out;
}

GreyPicture smaller(GreyPicture const& picture, int by) {
  if (by <= 1) return picture;
  GreyPicture small;
  small.width = picture.width / by;
  small.height = picture.height / by;
  small.pixels.resize(static_cast<std::size_t>(small.width) * static_cast<std::size_t>(small.height));
  std::vector<int> sums(static_cast<std::size_t>(small.width));
  for (int y = 0; y < small.height; ++y) {
    std::fill(sums.begin(), sums.end(), 0);
    for (int dy = 0; dy < by; ++dy) {
      std::uint8_t const* p = picture.pixels.data() + static_cast<std::size_t>(y * by + dy) * static_cast<std::size_t>(picture.width);
      for (int& sum : sums)
        for (int dx = 0; dx < by; ++dx) sum += *p++;
    }
    for (int x = 0; x < small.width; ++x)
      small.pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(small.width) + static_cast<std::size_t>(x)] =
          static_cast<std::uint8_t>(sums[static_cast<std::size_t>(x)] / (by * by));
  }
  return small;
}

std::vector<int> thresholds(GreyPicture const& channel) {
  double const pixels = static_cast<double>(channel.pixels.size());
  Histogram const h = smooth_histogram(channel);
  std::vector<Peak> peaks = peaks_of(h, pixels);
  double const in_peaks = std::accumulate(peaks.begin(), peaks.end(), 0.0, [](double sum, Peak const& p) { return sum + p.mass; });
  std::vector<int> levels;
  if (peaks.empty() || (peaks.size() == 1 && in_peaks > 0.9999 * pixels)) return levels;
  auto const add = [&](int level) {
    bool const near = std::any_of(levels.begin(), levels.end(), [&](int l) { return std::abs(l - level) < kNearest; });
    if (!near && levels.size() < kMostThresholds) levels.push_back(level);
  };
  std::stable_sort(peaks.begin(), peaks.end(), [](Peak const& a, Peak const& b) { return a.mass > b.mass; });
  bool const one_paper = peaks.size() > 1 && std::abs(peaks[0].level - peaks[1].level) < kOnePaper;
  if (peaks.size() == 1 || one_paper || in_peaks < 0.7 * pixels) add(otsu(h, pixels));  // a picture with tones: no colour stands out
  // Between the two commonest colours, then among the three commonest, and so on: rare ones are mostly the soft edges of shapes.
  for (std::size_t count = 2; count <= std::min(peaks.size(), kMostThresholds + 1); ++count) {
    std::vector<int> common;
    for (std::size_t i = 0; i < count; ++i) common.push_back(peaks[i].level);
    std::sort(common.begin(), common.end());
    for (std::size_t i = 1; i < count; ++i)
      if (common[i] - common[i - 1] >= kNearest) add((common[i] + common[i - 1] + 1) / 2);
  }
  return levels;
}

int BlobMap::at(int x, int y) const {
  auto const begin = runs.begin() + static_cast<std::ptrdiff_t>(rows[static_cast<std::size_t>(y)]);
  auto const end = runs.begin() + static_cast<std::ptrdiff_t>(rows[static_cast<std::size_t>(y) + 1]);
  return std::prev(std::upper_bound(begin, end, x, [](int v, BlobRun const& run) { return v < run.x0; }))->blob;
}

BlobMap find_blobs(GreyPicture const& channel, int threshold, std::size_t most_runs) {
  BlobMap map;
  map.width = channel.width;
  map.height = channel.height;
  std::vector<int> parent;
  std::vector<bool> light;
  if (!label(channel, threshold, most_runs, map, parent, light)) return {};
  std::vector<int> number(parent.size(), -1);
  for (BlobRun& run : map.runs) {
    int const root = root_of(parent, run.blob);
    int& id = number[static_cast<std::size_t>(root)];
    if (id < 0) {
      id = static_cast<int>(map.blobs.size());
      map.blobs.push_back({run.x0, run.y, run.x1, run.y + 1, 0, light[static_cast<std::size_t>(root)], run.x0});
    }
    run.blob = id;
    Blob& blob = map.blobs[static_cast<std::size_t>(id)];
    blob.x0 = std::min(blob.x0, run.x0);
    blob.x1 = std::max(blob.x1, run.x1);
    blob.y1 = run.y + 1;
    blob.area += run.x1 - run.x0;
  }
  return map;
}

}  // namespace layright
