#include "sheet/duration.h"

#include <algorithm>
#include <string>

#include "base/in_quotes.h"

namespace layright {

Result<std::chrono::milliseconds> parse_duration(std::string_view text) {
  auto const digits = std::min(text.find_first_not_of("0123456789"), text.size());
  auto const unit = text.substr(digits);
  long long const factor = unit == "ms" ? 1 : unit == "s" ? 1000 : unit == "min" ? 60'000 : unit == "h" ? 3'600'000 : unit == "d" ? 86'400'000 : 0;
  if (digits == 0 || digits > 6 || factor == 0)
    return usage_error(in_quotes(text) + " is no time: write a whole number and ms, s, min, h or d, such as 2s or 90d");
  return std::chrono::milliseconds(std::stoll(std::string(text.substr(0, digits))) * factor);
}

}  // namespace layright
