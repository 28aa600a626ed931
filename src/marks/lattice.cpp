#include "marks/lattice.h"

#include <algorithm>
#include <cmath>

namespace layright {

std::optional<LatticeSpan> lattice_span(double from, double to, double step, double low, double high) {
  if (!(step > 0) || !(to >= from) || !(high >= low)) return std::nullopt;
  double const first = from + (std::floor((low - to) / step) + 1) * step;  // the first copy that ends after `low`
  double const last = to + (std::ceil((high - from) / step) - 1) * step;   // where the last one that begins before `high` ends
  LatticeSpan const span{std::max(first, low), std::min(last, high), first<low, last> high};
  if (span.from > high || span.to < low || span.from > span.to) return std::nullopt;
  return span;
}

}  // namespace layright
