// Where the copies of a tile fall inside a window: by arithmetic, never one by one.
#pragma once
#include <optional>

namespace layright {

/// Along one axis: what of from..to, repeated every `step` (> 0), shows inside low..high.
struct LatticeSpan {
  double from = 0, to = 0;                // of all that shows
  bool from_cut = false, to_cut = false;  // the first, the last copy is cut by the window
};
std::optional<LatticeSpan> lattice_span(double from, double to, double step, double low, double high);

}  // namespace layright
