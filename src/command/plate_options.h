// The options that say how the white plate is made.
#pragma once
#include <optional>
#include <string>

#include "sheet/target.h"

namespace CLI {
class App;
}

namespace layright {

/// What the person wrote; empty where nothing was said.
struct PlateWords {
  std::string plate, pull_in, thin, fade, as;
  double light_pct = -1;
  bool none_under_black = false, first = false, register_marks = false;
};

void add_plate_options(CLI::App& command, PlateWords& words);
/// What they make of the target's plate.
Outcome resolve_plate(PlateWords const& words, Target& target);

}  // namespace layright
