// Time as people tell it. Only for telling: what waits, waits by the steady clock, which nobody sets back.
#pragma once
#include <string>

namespace layright {

/// Milliseconds since 1970 UTC.
long long now_ms();
/// "2026-11-27T05:49:36Z"
std::string utc_text(long long ms);
/// "2026-11-27 05:49", of the shop's own time (TZ)
std::string local_text(long long ms);

}  // namespace layright
