#include "watch/job_code.h"

#include <algorithm>
#include <charconv>
#include <system_error>

#include "base/in_quotes.h"

namespace layright {
namespace {

/// What Code 128 and every keyboard can type.
bool is_plain(std::string_view text) {
  return std::ranges::all_of(text, [](char c) { return c > ' ' && c <= '~'; });
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  auto const from = text.find_first_not_of(kBlank);
  return from == std::string_view::npos ? std::string_view() : text.substr(from, text.find_last_not_of(kBlank) - from + 1);
}

}  // namespace

std::string job_code(LedgerEntry const& entry, Configuration const& configuration) {
  bool several = false;
  for (auto const& [name, intake] : configuration.intakes) several = several || intake.ledger != configuration.intakes.begin()->second.ledger;
  return (several && is_plain(entry.intake) ? entry.intake + ":" : std::string()) + std::to_string(entry.id);
}

Result<JobCode> parse_job_code(std::string_view text) {
  auto const whole = trimmed(text);
  auto const colon = whole.rfind(':');
  auto const number = colon == std::string_view::npos ? whole : whole.substr(colon + 1);
  JobCode code;
  if (colon != std::string_view::npos) code.intake = std::string(whole.substr(0, colon));
  auto const read = std::from_chars(number.data(), number.data() + number.size(), code.id);
  if (number.empty() || read.ec != std::errc() || read.ptr != number.data() + number.size() || code.id < 1 || colon == 0)
    return usage_error(in_quotes(std::string(text)) + " is no job number: write it as the job sheet and layright ledger tell it, such as 17");
  return code;
}

}  // namespace layright
