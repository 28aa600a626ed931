#include "place/wording.h"

#include <cmath>

namespace layright {
namespace {

/// `rounded(step)` gives a percentage rounded to 1/step.
template <class Rounded>
std::string percent_between(double lo, double hi, Rounded&& rounded) {
  constexpr int kMostDecimals = 9;  // as near as numbers of this size are told apart
  for (int decimals = 1;; ++decimals) {
    double const percent = rounded(std::pow(10.0, decimals));
    bool const says_enough = percent >= 10 * std::pow(10.0, -decimals) && percent >= lo * 100 && percent <= hi * 100 * (1 + 1e-12);
    if (says_enough || decimals == kMostDecimals) return format_number(percent, decimals) + "%";
  }
}

}  // namespace

std::string format_excess(double points, Unit unit) {
  int const decimals = unit == Unit::inch ? 3 : unit == Unit::millimetre ? 2 : 1;
  double const shown = Length::points(points).in(unit);
  if (std::abs(shown) >= 0.5 * std::pow(10.0, -decimals)) return format_length(Length::points(points), unit);
  return std::abs(points) < 0.0005 ? "less than 0.001 pt" : format_number(points, 3) + " pt";
}

std::string format_scale_down(double lo, double hi) {
  // The hair keeps 94.1, held as 94.09999…, from being told as 94.
  return percent_between(lo, hi, [&](double step) { return std::floor(hi * 100 * step * (1 + 1e-12)) / step; });
}

std::string format_scale_up(double lo, double hi) {
  return percent_between(lo, hi, [&](double step) { return std::ceil(lo * 100 * step * (1 - 1e-12)) / step; });
}

std::string format_scale(double scale) { return format_number(scale * 100, 2) + "%"; }

}  // namespace layright
