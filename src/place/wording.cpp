#include "place/wording.h"

#include <cmath>

namespace layright {

std::string format_excess(double points, Unit unit) {
  int const decimals = unit == Unit::inch ? 3 : unit == Unit::millimetre ? 2 : 1;
  double const shown = Length::points(points).in(unit);
  if (std::abs(shown) >= 0.5 * std::pow(10.0, -decimals)) return format_length(Length::points(points), unit);
  return format_number(points, 3) + " pt";
}

std::string format_scale_down(double scale) {
  double const percent = scale * 100;
  int decimals = 1;
  while (decimals < 6 && percent < 10 * std::pow(10.0, -decimals)) ++decimals;
  double const step = std::pow(10.0, decimals);
  // The hair keeps 94.1, held as 94.09999…, from being told as 94.
  return format_number(std::floor(percent * step * (1 + 1e-12)) / step, decimals) + "%";
}

std::string format_scale(double scale) { return format_number(scale * 100, 2) + "%"; }

}  // namespace layright
