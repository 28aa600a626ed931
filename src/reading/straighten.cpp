#include <algorithm>
#include <cmath>

#include "reading/letter_lines.h"
#include "reading/line_course.h"

namespace layright {
namespace {

constexpr int kRim = 4;     // white pixels around the letters of a strip
constexpr int kFinest = 4;  // samples a side of a strip's pixel at most
constexpr double kLeastContrast = 8;
constexpr double kMarksReach = 0.4, kMarksHeight = 0.75;  // of the line's height: where its small marks lie, how large they may be

/// The letters of a line and the small marks that belong to them, over the line's surroundings in the small picture; in upward lines x
/// and y are exchanged.
class Stencil {
 public:
  Stencil(LetterLine const& line, BlobMap const& map) : upward_(line.upward), map_(map) {
    int const room = static_cast<int>(line.size) + 2;
    int x0 = std::max(line.x0 - room, 0), y0 = std::max(line.y0 - room, 0);
    int x1 = std::min(line.x1 + room, map.width), y1 = std::min(line.y1 + room, map.height);
    if (upward_) std::swap(x0, y0), std::swap(x1, y1);
    x0_ = x0, y0_ = y0, width_ = x1 - x0, height_ = y1 - y0;
    ink_.assign(static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_), 0);
  }

  /// Paints the blobs for which `wanted` holds.
  template <class Wanted>
  void paint(Wanted const& wanted) {
    int const row0 = upward_ ? x0_ : y0_, rows = upward_ ? width_ : height_;
    int const left = upward_ ? y0_ : x0_, right = left + (upward_ ? height_ : width_);
    for (int row = row0; row < row0 + rows; ++row)
      for (std::size_t r = map_.rows[static_cast<std::size_t>(row)]; r < map_.rows[static_cast<std::size_t>(row) + 1]; ++r) {
        BlobRun const& run = map_.runs[r];
        if (run.x1 <= left || run.x0 >= right || !wanted(run.blob)) continue;
        for (int x = std::max(run.x0, left); x < std::min(run.x1, right); ++x)
          ink_[upward_ ? index(row - x0_, x - y0_) : index(x - x0_, row - y0_)] = 1;
      }
  }

  /// Calls each(x, y) for every painted pixel.
  template <class Each>
  void each(Each const& each_pixel) const {
    for (int y = 0; y < height_; ++y)
      for (int x = 0; x < width_; ++x)
        if (ink_[index(x, y)]) each_pixel(x0_ + x, y0_ + y);
  }

  std::vector<LinePiece> pieces(double size) const {
    int const step = std::max(3, static_cast<int>(0.7 * size));
    struct Extents {
      int x0 = 1 << 30, y0 = 1 << 30, x1 = -1, y1 = -1;
    };
    std::vector<Extents> boxes(static_cast<std::size_t>(width_ / step + 1));
    each([&](int x, int y) {
      Extents& b = boxes[static_cast<std::size_t>((x - x0_) / step)];
      b.x0 = std::min(b.x0, x), b.x1 = std::max(b.x1, x + 1), b.y0 = std::min(b.y0, y), b.y1 = std::max(b.y1, y + 1);
    });
    std::vector<LinePiece> out;
    for (Extents const& b : boxes)
      if (b.y1 - b.y0 >= 0.4 * size) out.push_back({(b.x0 + b.x1) / 2.0, static_cast<double>(b.y0), static_cast<double>(b.y1)});
    return out;
  }

  /// Every pixel next to a painted one is painted too.
  void thicken() {
    std::vector<char> const old = ink_;
    for (int y = 0; y < height_; ++y)
      for (int x = 0; x < width_; ++x)
        if (old[index(x, y)]) {
          if (x > 0) ink_[index(x - 1, y)] = 1;
          if (y > 0) ink_[index(x, y - 1)] = 1;
          if (x + 1 < width_) ink_[index(x + 1, y)] = 1;
          if (y + 1 < height_) ink_[index(x, y + 1)] = 1;
        }
  }

  bool covers(double x, double y) const {
    int const ix = static_cast<int>(std::floor(x)) - x0_, iy = static_cast<int>(std::floor(y)) - y0_;
    return ix >= 0 && iy >= 0 && ix < width_ && iy < height_ && ink_[index(ix, iy)] != 0;
  }

 private:
  std::size_t index(int x, int y) const { return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x); }

  bool upward_;
  BlobMap const& map_;
  int x0_ = 0, y0_ = 0, width_ = 0, height_ = 0;
  std::vector<char> ink_;
};

/// How far letters reach along (u, as x) and across (v) their course.
struct Extent {
  double u0 = 1e30, u1 = -1e30, v0 = 1e30, v1 = -1e30;
  double height() const { return v1 - v0; }
};

Extent extent_of(Stencil const& stencil, Course const& course) {
  Extent e;
  stencil.each([&](int x, int y) {
    CoursePoint const p{x + 0.5, y + 0.5};
    double const u = course.foot(p), v = course.away(p);
    e.u0 = std::min(e.u0, u - 0.5), e.u1 = std::max(e.u1, u + 0.5), e.v0 = std::min(e.v0, v - 0.5), e.v1 = std::max(e.v1, v + 0.5);
  });
  return e;
}

/// Dots and accents: blobs of the same kind, small, near above or below the letters.
void add_small_marks(Stencil& stencil, LetterLine const& line, BlobMap const& map, Course const& course, Extent const& letters) {
  double const high = letters.height(), reach = kMarksReach * high;
  stencil.paint([&](int id) {
    Blob const& b = map.blobs[static_cast<std::size_t>(id)];
    if (b.light != line.light || b.area < 3 || std::max(b.width(), b.height()) > kMarksHeight * high) return false;
    CoursePoint p{(b.x0 + b.x1) / 2.0, (b.y0 + b.y1) / 2.0};
    if (line.upward) std::swap(p.x, p.y);
    double const u = course.foot(p), v = course.away(p);
    return u >= letters.u0 - reach && u <= letters.u1 + reach && v >= letters.v0 - reach && v <= letters.v1 + reach;
  });
}

/// The full picture at a place in its own pixels, between pixels linearly; outside it the nearest.
double sample(GreyPicture const& full, double x, double y) {
  double const fx = std::clamp(x - 0.5, 0.0, full.width - 1.001), fy = std::clamp(y - 0.5, 0.0, full.height - 1.001);
  int const ix = static_cast<int>(fx), iy = static_cast<int>(fy);
  double const ax = fx - ix, ay = fy - iy;
  int const jx = std::min(ix + 1, full.width - 1), jy = std::min(iy + 1, full.height - 1);
  return (full.at(ix, iy) * (1 - ax) + full.at(jx, iy) * ax) * (1 - ay) + (full.at(ix, jy) * (1 - ax) + full.at(jx, jy) * ax) * ay;
}

/// The line cut out along its course: grey values, and which pixels belong to letters.
struct Cutting {
  int width = 0;
  std::vector<double> grey;
  std::vector<char> inside;
};

Cutting cut(Stencil const& stencil, Course const& course, Extent const& e, GreyPicture const& full, int by, bool upward) {
  Cutting c;
  double const step = e.height() / (kStripHeight - 2 * kRim);  // small-picture pixels to a strip's pixel
  c.width = std::min(static_cast<int>(std::ceil(course.length(e.u0, e.u1) / step)) + 2 * kRim, kLongestStrip);
  int const fine = std::clamp(static_cast<int>(std::lround(step * by)), 1, kFinest);
  std::size_t const pixels = static_cast<std::size_t>(c.width) * kStripHeight;
  c.grey.resize(pixels);
  c.inside.resize(pixels);
  double u = e.u0 - kRim * step / std::hypot(1.0, course.rise(e.u0));
  for (int x = 0; x < c.width; ++x) {
    double const rise = course.rise(u), norm = std::hypot(1.0, rise), level = course.y(u);
    for (int y = 0; y < kStripHeight; ++y) {
      double sum = 0;
      int inside = 0;
      for (int k = 0; k < fine * fine; ++k) {
        int const row = k / fine, column = k % fine;
        double const v = e.v0 + step * (y - kRim + (row + 0.5) / fine), along = step * ((column + 0.5) / fine);
        double px = u + (along - v * rise) / norm, py = level + (along * rise + v) / norm;
        inside += stencil.covers(px, py);
        if (upward) std::swap(px, py);
        sum += sample(full, px * by, py * by);
      }
      std::size_t const i = static_cast<std::size_t>(y) * static_cast<std::size_t>(c.width) + static_cast<std::size_t>(x);
      c.grey[i] = sum / (fine * fine);
      c.inside[i] = 2 * inside >= fine * fine;
    }
    u += step / norm;
  }
  return c;
}

double rank(std::vector<double>& v, double part) {
  auto const at = v.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(v.size() - 1));
  std::nth_element(v.begin(), at, v.end());
  return *at;
}

/// Letters to black, all else to white.
GreyPicture inked(Cutting const& c, bool light) {
  std::vector<double> ink, ground;
  for (std::size_t i = 0; i < c.grey.size(); ++i) (c.inside[i] ? ink : ground).push_back(c.grey[i]);
  if (ink.size() < 20 || ground.size() < 20) return {};
  // The ground next to the letters may be a thin outline only, so its far side counts.
  double const black = rank(ink, light ? 0.75 : 0.25), white = rank(ground, light ? 0.1 : 0.9);
  if (std::abs(black - white) < kLeastContrast) return {};
  GreyPicture strip{c.width, kStripHeight, std::vector<std::uint8_t>(c.grey.size(), 255)};
  for (std::size_t i = 0; i < c.grey.size(); ++i)
    if (c.inside[i]) strip.pixels[i] = static_cast<std::uint8_t>(std::clamp(255 * (c.grey[i] - black) / (white - black), 0.0, 255.0));
  return strip;
}

}  // namespace

GreyPicture straighten(LetterLine const& line, BlobMap const& map, GreyPicture const& full, int by) {
  Stencil stencil(line, map);
  std::vector<char> ours(map.blobs.size(), 0);
  for (int b : line.blobs) ours[static_cast<std::size_t>(b)] = 1;
  stencil.paint([&](int id) { return ours[static_cast<std::size_t>(id)] != 0; });
  Course const course = course_through(stencil.pieces(line.size), line.size);
  add_small_marks(stencil, line, map, course, extent_of(stencil, course));
  Extent const extent = extent_of(stencil, course);
  if (!(extent.height() > 0)) return {};
  stencil.thicken();
  GreyPicture strip = inked(cut(stencil, course, extent, full, by, line.upward), line.light);
  if (line.upward && strip.width > 0)  // x and y were exchanged, which reverses
    for (int y = 0; y < strip.height; ++y) {
      auto const row = strip.pixels.begin() + static_cast<std::ptrdiff_t>(y) * strip.width;
      std::reverse(row, row + strip.width);
    }
  return strip;
}

}  // namespace layright
