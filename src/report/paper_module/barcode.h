// A barcode (Code 128, ISO/IEC 15417), as its bars.
#pragma once
#include <string>
#include <vector>

namespace layright {

struct Bars {
  double width = 0;  // of all, in modules, without the quiet zones
  struct Bar {
    double from, width;
  };
  std::vector<Bar> bars;
};
inline constexpr double kQuietModules = 10;  // left bare on either side (ISO/IEC 15417, 4.7)

/// Throws NotMade for what the code cannot hold.
Bars code_128(std::string const& text);

}  // namespace layright
