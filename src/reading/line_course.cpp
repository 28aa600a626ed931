#include "reading/line_course.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace layright {
namespace {

// Our own, tried on the teaching pages of tests/reading.
constexpr std::size_t kFewestToBend = 5;  // pieces
constexpr double kEven = 0.1;             // letter heights by which edges may miss a straight line in the median
constexpr double kLeastBend = 0.3;        // letter heights that the ends lie off the middle's tangent
constexpr double kBetter = 0.6;           // times the straight line's deviation

double median(std::vector<double> v) {
  if (v.empty()) return 0;
  auto const middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

struct Edge {
  double slope, misses;  // misses: how far it lies off its straight line in the median
};

/// The median slope of all pairs (the estimator of Theil and Sen): a descender or a capital does not tilt it.
template <class Height>
Edge edge_of(std::vector<LinePiece> const& pieces, Height const& height) {
  std::vector<double> slopes, levels, misses;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (std::size_t j = i + 1; j < pieces.size(); ++j) slopes.push_back((height(pieces[j]) - height(pieces[i])) / (pieces[j].x - pieces[i].x));
  double const slope = median(slopes);
  for (LinePiece const& p : pieces) levels.push_back(height(p) - slope * p.x);
  double const level = median(levels);
  for (double l : levels) misses.push_back(std::abs(l - level));
  return {slope, median(misses)};
}

double middle(LinePiece const& p) { return (p.top + p.bottom) / 2; }

/// Least squares through the middles, by elimination on sums of powers.
Course parabola(std::vector<LinePiece> const& pieces, double from) {
  double m[3][4] = {};
  for (LinePiece const& p : pieces) {
    double const x = p.x - from, powers[3] = {1, x, x * x};
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) m[i][j] += powers[i] * powers[j];
      m[i][3] += powers[i] * middle(p);
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

double deviation(std::vector<LinePiece> const& pieces, Course const& c) {
  double sum = 0;
  for (LinePiece const& p : pieces) sum += std::pow(middle(p) - c.y(p.x), 2);
  return std::sqrt(sum / static_cast<double>(pieces.size()));
}

}  // namespace

double Course::length(double x0, double x1) const {
  constexpr int kParts = 64;
  double sum = 0;
  for (int i = 0; i < kParts; ++i) sum += std::hypot(1.0, rise(x0 + (x1 - x0) * (i + 0.5) / kParts)) * (x1 - x0) / kParts;
  return sum;
}

double Course::foot(CoursePoint p) const {
  double const r = rise(p.x);
  return p.x + (p.y - y(p.x)) * r / (1 + r * r);
}

double Course::away(CoursePoint p) const {
  double const x = foot(p), r = rise(x);
  return ((p.y - y(x)) + (x - p.x) * r) / std::sqrt(1 + r * r);
}

Course course_through(std::vector<LinePiece> const& pieces, double size) {
  Course level;
  if (pieces.empty()) return level;
  double const length = pieces.back().x - pieces.front().x;
  level.from = (pieces.back().x + pieces.front().x) / 2;
  double uneven = 0;
  if (pieces.size() >= 3) {
    Edge const tops = edge_of(pieces, [](LinePiece const& p) { return p.top; });
    Edge const bottoms = edge_of(pieces, [](LinePiece const& p) { return p.bottom; });
    level.slope = tops.misses < bottoms.misses ? tops.slope : bottoms.slope;
    uneven = std::min(tops.misses, bottoms.misses);
  }
  std::vector<double> middles;
  for (LinePiece const& p : pieces) middles.push_back(middle(p) - level.slope * (p.x - level.from));
  level.offset = median(middles);
  if (pieces.size() < kFewestToBend || uneven < kEven * size) return level;
  Course const bent = parabola(pieces, level.from);
  bool const bends = std::abs(bent.bend) * length * length / 4 > kLeastBend * size;
  return bends && deviation(pieces, bent) < kBetter * deviation(pieces, level) ? bent : level;
}

}  // namespace layright
