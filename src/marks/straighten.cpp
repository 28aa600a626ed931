#include <algorithm>
#include <cmath>

#include "marks/letter_lines.h"

namespace layright {
namespace {

struct Spot {
  double x, y;
};

/// The course of a line: y = offset + slope (x - from) + bend (x - from)^2 in pixels of the small picture; in upward lines x and y are
/// exchanged.
struct Course {
  double from = 0, offset = 0, slope = 0, bend = 0;
  double y(double x) const { return offset + (slope + bend * (x - from)) * (x - from); }
  double rise(double x) const { return slope + 2 * bend * (x - from); }
  /// Along the course between two x.
  double length(double x0, double x1) const {
    constexpr int kParts = 64;
    double sum = 0;
    for (int i = 0; i < kParts; ++i) sum += std::hypot(1.0, rise(x0 + (x1 - x0) * (i + 0.5) / kParts)) * (x1 - x0) / kParts;
    return sum;
  }
  /// The point of the course that is nearest, to first order.
  double foot(Spot p) const {
    double const r = rise(p.x);
    return p.x + (p.y - y(p.x)) * r / (1 + r * r);
  }
  /// Signed distance from the course, positive towards larger y.
  double away(Spot p) const {
    double const x = foot(p), r = rise(x);
    return ((p.y - y(x)) + (x - p.x) * r) / std::sqrt(1 + r * r);
  }
};

/// A piece of the line about as long as it is high.
struct Piece {
  double x, top, bottom;
};

/// The letters of a line and the small marks that belong to them, as a bitmap over the line's surroundings.
struct Stencil {
  int x0 = 0, y0 = 0, width = 0, height = 0;  // with x and y exchanged in upward lines
  std::vector<char> ink;
  char& at(int x, int y) { return ink[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]; }
  bool covers(double x, double y) const {
    int const ix = static_cast<int>(std::floor(x)) - x0, iy = static_cast<int>(std::floor(y)) - y0;
    return ix >= 0 && iy >= 0 && ix < width && iy < height && ink[static_cast<std::size_t>(iy) * static_cast<std::size_t>(width) + static_cast<std::size_t>(ix)] != 0;
  }
};

Stencil room_for(LetterLine const& line, BlobMap const& map) {
  int const room = static_cast<int>(line.size) + 2;
  Stencil s;
  int x0 = std::max(line.x0 - room, 0), y0 = std::max(line.y0 - room, 0);
  int x1 = std::min(line.x1 + room, map.width), y1 = std::min(line.y1 + room, map.height);
  if (line.upward) std::swap(x0, y0), std::swap(x1, y1);
  s.x0 = x0, s.y0 = y0, s.width = x1 - x0, s.height = y1 - y0;
  s.ink.assign(static_cast<std::size_t>(s.width) * static_cast<std::size_t>(s.height), 0);
  return s;
}

/// Paints the blobs for which `wanted` holds.
template <class Wanted>
void paint(Stencil& s, BlobMap const& map, bool upward, Wanted const& wanted) {
  int const row0 = upward ? s.x0 : s.y0, row1 = upward ? s.x0 + s.width : s.y0 + s.height;
  int const left = upward ? s.y0 : s.x0, right = upward ? s.y0 + s.height : s.x0 + s.width;
  for (int row = row0; row < row1; ++row)
    for (std::size_t r = map.rows[static_cast<std::size_t>(row)]; r < map.rows[static_cast<std::size_t>(row) + 1]; ++r) {
      BlobRun const& run = map.runs[r];
      if (run.x1 <= left || run.x0 >= right || !wanted(run.blob)) continue;
      for (int x = std::max(run.x0, left); x < std::min(run.x1, right); ++x) upward ? s.at(row - s.x0, x - s.y0) = 1 : s.at(x - s.x0, row - s.y0) = 1;
    }
}

std::vector<Piece> pieces_of(Stencil& s, double size) {
  std::vector<Piece> pieces;
  int const step = std::max(3, static_cast<int>(0.7 * size));
  for (int x0 = 0; x0 < s.width; x0 += step) {
    int top = s.height, bottom = -1, left = s.width, right = -1;
    for (int y = 0; y < s.height; ++y)
      for (int x = x0; x < std::min(x0 + step, s.width); ++x)
        if (s.at(x, y)) {
          top = std::min(top, y), bottom = std::max(bottom, y + 1);
          left = std::min(left, x), right = std::max(right, x + 1);
        }
    if (bottom - top >= 0.4 * size) pieces.push_back({s.x0 + (left + right) / 2.0, static_cast<double>(s.y0 + top), static_cast<double>(s.y0 + bottom)});
  }
  return pieces;
}

double median(std::vector<double> v) {
  if (v.empty()) return 0;
  auto const middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

/// The median slope of all pairs (Theil and Sen), and how far in the median its line misses.
template <class Edge>
std::pair<double, double> slope_of(std::vector<Piece> const& pieces, Edge const& edge) {
  std::vector<double> slopes, misses, heights;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (std::size_t j = i + 1; j < pieces.size(); ++j) slopes.push_back((edge(pieces[j]) - edge(pieces[i])) / (pieces[j].x - pieces[i].x));
  double const slope = median(slopes);
  for (Piece const& p : pieces) heights.push_back(edge(p) - slope * p.x);
  double const level = median(heights);
  for (double h : heights) misses.push_back(std::abs(h - level));
  return {slope, median(misses)};
}

/// Least squares of a parabola through the middles, from sums of powers.
Course parabola(std::vector<Piece> const& pieces, double from) {
  double m[3][4] = {};
  for (Piece const& p : pieces) {
    double const x = p.x - from, y = (p.top + p.bottom) / 2, powers[3] = {1, x, x * x};
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) m[i][j] += powers[i] * powers[j];
      m[i][3] += powers[i] * y;
    }
  }
  for (int i = 0; i < 3; ++i)
    for (int k = 0; k < 3; ++k)
      if (k != i && m[i][i] != 0) {
        double const f = m[k][i] / m[i][i];
        for (int j = i; j < 4; ++j) m[k][j] -= f * m[i][j];
      }
  Course c;
  c.from = from;
  if (m[0][0] != 0 && m[1][1] != 0 && m[2][2] != 0) c.offset = m[0][3] / m[0][0], c.slope = m[1][3] / m[1][1], c.bend = m[2][3] / m[2][2];
  return c;
}

double misfit(std::vector<Piece> const& pieces, Course const& c) {
  double sum = 0;
  for (Piece const& p : pieces) sum += std::pow((p.top + p.bottom) / 2 - c.y(p.x), 2);
  return std::sqrt(sum / static_cast<double>(pieces.size()));
}

Course course_of(std::vector<Piece> const& pieces, double size) {
  Course level;
  if (pieces.empty()) return level;
  double const length = pieces.back().x - pieces.front().x;
  level.from = (pieces.back().x + pieces.front().x) / 2;
  std::vector<double> middles;
  double uneven = 0;
  if (pieces.size() >= 3) {
    auto const tops = slope_of(pieces, [](Piece const& p) { return p.top; });
    auto const bottoms = slope_of(pieces, [](Piece const& p) { return p.bottom; });
    level.slope = tops.second < bottoms.second ? tops.first : bottoms.first;
    uneven = std::min(tops.second, bottoms.second);
  }
  for (Piece const& p : pieces) middles.push_back((p.top + p.bottom) / 2 - level.slope * (p.x - level.from));
  level.offset = median(middles);
  if (pieces.size() < 5 || uneven < 0.1 * size) return level;  // letters stand on, or hang from, a straight line
  Course const bent = parabola(pieces, level.from);
  bool const bends = std::abs(bent.bend) * length * length / 4 > 0.3 * size;
  return bends && misfit(pieces, bent) < 0.6 * misfit(pieces, level) ? bent : level;
}

struct Extent {
  double u0 = 1e30, u1 = -1e30, v0 = 1e30, v1 = -1e30;
  void take(Course const& c, Spot p) {
    double const u = c.foot(p), v = c.away(p);
    u0 = std::min(u0, u), u1 = std::max(u1, u), v0 = std::min(v0, v), v1 = std::max(v1, v);
  }
};

Extent extent_of(Stencil& s, Course const& c) {
  Extent e;
  for (int y = 0; y < s.height; ++y)
    for (int x = 0; x < s.width; ++x)
      if (s.at(x, y)) e.take(c, {s.x0 + x + 0.5, s.y0 + y + 0.5});
  e.u0 -= 0.5, e.u1 += 0.5, e.v0 -= 0.5, e.v1 += 0.5;
  return e;
}

/// Dots and accents: blobs of the same kind, small, near above or below the letters.
void add_small_marks(Stencil& s, LetterLine const& line, BlobMap const& map, Course const& c, Extent const& letters) {
  double const high = letters.v1 - letters.v0;
  paint(s, map, line.upward, [&](int id) {
    Blob const& b = map.blobs[static_cast<std::size_t>(id)];
    if (b.light != line.light || b.area < 3 || std::max(b.width(), b.height()) > 0.75 * high) return false;
    Spot p{(b.x0 + b.x1) / 2.0, (b.y0 + b.y1) / 2.0};
    if (line.upward) std::swap(p.x, p.y);
    double const u = c.foot(p), v = c.away(p);
    return u >= letters.u0 - 0.4 * high && u <= letters.u1 + 0.4 * high && v >= letters.v0 - 0.4 * high && v <= letters.v1 + 0.4 * high;
  });
}

void thicken(Stencil& s) {
  std::vector<char> const old = s.ink;
  auto const was = [&](int x, int y) { return x >= 0 && y >= 0 && x < s.width && y < s.height && old[static_cast<std::size_t>(y) * static_cast<std::size_t>(s.width) + static_cast<std::size_t>(x)]; };
  for (int y = 0; y < s.height; ++y)
    for (int x = 0; x < s.width; ++x)
      if (was(x - 1, y) || was(x + 1, y) || was(x, y - 1) || was(x, y + 1)) s.at(x, y) = 1;
}

/// The full picture at a place of the small one, between pixels linearly; outside it the nearest.
double sample(GreyPicture const& full, double x, double y) {
  double const fx = std::clamp(x - 0.5, 0.0, full.width - 1.001), fy = std::clamp(y - 0.5, 0.0, full.height - 1.001);
  int const ix = static_cast<int>(fx), iy = static_cast<int>(fy);
  double const ax = fx - ix, ay = fy - iy;
  int const jx = std::min(ix + 1, full.width - 1), jy = std::min(iy + 1, full.height - 1);
  return (full.at(ix, iy) * (1 - ax) + full.at(jx, iy) * ax) * (1 - ay) + (full.at(ix, jy) * (1 - ax) + full.at(jx, jy) * ax) * ay;
}

}  // namespace

GreyPicture straighten(LetterLine const& line, BlobMap const& map, GreyPicture const& full, int by) {
  Stencil stencil = room_for(line, map);
  std::vector<char> ours(map.blobs.size(), 0);
  for (int b : line.blobs) ours[static_cast<std::size_t>(b)] = 1;
  paint(stencil, map, line.upward, [&](int id) { return ours[static_cast<std::size_t>(id)] != 0; });
  Course const course = course_of(pieces_of(stencil, line.size), line.size);
  add_small_marks(stencil, line, map, course, extent_of(stencil, course));
  Extent const e = extent_of(stencil, course);
  thicken(stencil);

  constexpr int kRim = 4;
  double const step = (e.v1 - e.v0) / (kStripHeight - 2 * kRim);  // small-picture pixels to a strip pixel
  if (!(step > 0)) return {};
  GreyPicture strip;
  strip.width = std::min(static_cast<int>(std::ceil(course.length(e.u0, e.u1) / step)) + 2 * kRim, kLongestStrip);
  strip.height = kStripHeight;
  int const fine = std::clamp(static_cast<int>(std::lround(step * by)), 1, 4);  // samples a side of a strip pixel
  std::vector<double> values, ink, ground;
  double u = e.u0;
  for (int i = 0; i < kRim; ++i) u -= step / std::sqrt(1 + std::pow(course.rise(u), 2));
  values.resize(static_cast<std::size_t>(strip.width) * kStripHeight, -1);
  for (int x = 0; x < strip.width; ++x) {
    double const r = course.rise(u), n = std::sqrt(1 + r * r);
    for (int y = 0; y < kStripHeight; ++y) {
      double sum = 0;
      int inside = 0;
      for (int k = 0; k < fine * fine; ++k) {
        double const v = e.v0 + step * (y - kRim + (k / fine + 0.5) / fine), along = step * ((k % fine + 0.5) / fine);
        double sx = u + along / n - v * r / n, sy = course.y(u) + along * r / n + v / n;
        inside += stencil.covers(sx, sy);
        if (line.upward) std::swap(sx, sy);
        sum += sample(full, sx * by, sy * by);
      }
      double const value = sum / (fine * fine);
      bool const in = 2 * inside >= fine * fine;
      (in ? ink : ground).push_back(value);
      if (in) values[static_cast<std::size_t>(y) * static_cast<std::size_t>(strip.width) + static_cast<std::size_t>(x)] = value;
    }
    u += step / n;
  }
  if (ink.size() < 20 || ground.size() < 20) return {};
  auto const rank = [](std::vector<double>& v, double part) {
    auto const at = v.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(v.size() - 1));
    std::nth_element(v.begin(), at, v.end());
    return *at;
  };
  // The ground next to the letters may be a thin outline only, so its far side counts.
  double const dark = rank(ink, line.light ? 0.75 : 0.25), white = rank(ground, line.light ? 0.1 : 0.9);
  if (std::abs(dark - white) < 8) return {};
  strip.pixels.resize(values.size());
  for (std::size_t i = 0; i < values.size(); ++i)
    strip.pixels[i] = values[i] < 0 ? 255 : static_cast<std::uint8_t>(std::clamp(255 * (values[i] - dark) / (white - dark), 0.0, 255.0));
  if (line.upward)  // x and y were exchanged, which reverses
    for (int y = 0; y < strip.height; ++y) {
      auto const row = strip.pixels.begin() + static_cast<std::ptrdiff_t>(y) * strip.width;
      std::reverse(row, row + strip.width);
    }
  return strip;
}

}  // namespace layright
