// Times that somebody waits, as the configuration has them.
#pragma once
#include <chrono>
#include <string_view>

#include "base/result.h"

namespace layright {

/// "2s", "90d": a whole number of at most six digits and ms, s, min, h or d. Error (usage).
Result<std::chrono::milliseconds> parse_duration(std::string_view text);

}  // namespace layright
