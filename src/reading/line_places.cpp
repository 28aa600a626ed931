#include "reading/line_places.h"

#include <algorithm>

namespace layright {
namespace {

double area_of_extents(LetterLine const& l) { return static_cast<double>(l.x1 - l.x0) * (l.y1 - l.y0); }

}  // namespace

double shared_area(LetterLine const& a, LetterLine const& b) {
  double const w = std::min(a.x1, b.x1) - std::max(a.x0, b.x0), h = std::min(a.y1, b.y1) - std::max(a.y0, b.y0);
  return w > 0 && h > 0 ? w * h : 0;
}

bool overlap(LetterLine const& a, LetterLine const& b) { return shared_area(a, b) > 0.5 * std::min(area_of_extents(a), area_of_extents(b)); }

bool lies_in(LetterLine const& line, LetterLine const& place) { return shared_area(line, place) > 0.5 * area_of_extents(line); }

bool same_place(LetterLine const& a, LetterLine const& b) { return a.upward == b.upward && a.light == b.light && overlap(a, b); }

}  // namespace layright
