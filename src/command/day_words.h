// Days as people write them.
#pragma once
#include <string>
#include <string_view>

#include "base/result.h"

namespace layright {

/// "2026-11-27" of "today", "yesterday", "2026-11-27", "11/27/2026", "11/27", "Nov 27", "November 27, 2026", "27 Nov 2026" or a weekday, which is the
/// last one, today's own included. `now`: milliseconds since 1970 UTC; days are the shop's (TZ). A day without its year is the last one that
/// was. Error (usage) for what is no day.
Result<std::string> parse_day(std::string_view text, long long now);

}  // namespace layright
