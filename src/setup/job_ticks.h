// What the job sheet says to the person at the press: in letters that are read from where one stands, and to tick off.
#pragma once
#include <string>
#include <vector>

#include "setup/operator_list.h"

namespace layright {

struct LargeWords {
  std::string sheet, tray;  // "8.5 x 17 in", "Multipurpose"
  std::string edge, side;   // "SHORT EDGE FIRST", "coated side up"
  std::string mirror;       // "MIRROR OFF", at the press
};
LargeWords large_words(Target const& target, PressSetup const& setup, Unit unit);

/// In the order of the work; settings of one dialog are one tick. `file`: its name is what the press or its queue is given.
std::vector<Step> job_ticks(Target const& target, PressSetup const& setup, std::optional<JobFile> const& file, Unit unit);
inline constexpr std::size_t kMostTicks = 10;

/// "6 sheets (2 pages x 3 copies)".
std::string load_words(Target const& target, std::optional<JobFile> const& file);

}  // namespace layright
