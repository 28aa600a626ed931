#include "command/day_words.h"

#include <array>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <optional>
#include <vector>

#include "base/in_quotes.h"
#include "base/lower_case.h"

namespace layright {
namespace {

using std::chrono::year_month_day;

constexpr std::array<std::string_view, 12> kMonths{"january", "february", "march",     "april",   "may",      "june",
                                                   "july",    "august",   "september", "october", "november", "december"};
constexpr std::array<std::string_view, 7> kWeekdays{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"};
constexpr std::size_t kShortest = 3;  // letters of a month or weekday that are enough

year_month_day day_of(long long now) {
  auto const seconds = static_cast<std::time_t>(now / 1000);
  std::tm parts{};
  localtime_r(&seconds, &parts);
  return std::chrono::year(parts.tm_year + 1900) / (parts.tm_mon + 1) / parts.tm_mday;
}

/// The place of the one that begins with `word`.
template <std::size_t N>
std::optional<unsigned> place_in(std::array<std::string_view, N> const& names, std::string_view word) {
  for (unsigned i = 0; i < N && word.size() >= kShortest; ++i)
    if (names[i].starts_with(word)) return i;
  return std::nullopt;
}

std::optional<int> number(std::string_view word) {
  if (word.empty() || word.size() > 4 || word.find_first_not_of("0123456789") != std::string_view::npos) return std::nullopt;
  return std::stoi(std::string(word));
}

/// Cut at blanks, commas, slashes, dashes and points.
std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts(1);
  for (char const c : lower_case(text))
    if (std::string_view(" ,/-.").find(c) == std::string_view::npos) parts.back() += c;
    else if (!parts.back().empty()) parts.emplace_back();
  if (parts.back().empty()) parts.pop_back();
  return parts;
}

/// Without its year: the last one that was.
year_month_day dated(std::optional<int> year, unsigned month, unsigned day, year_month_day today) {
  if (year) return std::chrono::year(*year < 100 ? 2000 + *year : *year) / static_cast<int>(month) / static_cast<int>(day);
  auto const this_year = today.year() / static_cast<int>(month) / static_cast<int>(day);
  return this_year <= today ? this_year : year_month_day((today.year() - std::chrono::years(1)) / static_cast<int>(month) / static_cast<int>(day));
}

std::optional<year_month_day> read(std::vector<std::string> const& parts, year_month_day today) {
  using std::chrono::days;
  using std::chrono::sys_days;
  if (parts.size() == 1) {
    if (parts[0] == "today") return today;
    if (parts[0] == "yesterday") return year_month_day(sys_days(today) - days(1));
    auto const weekday = place_in(kWeekdays, parts[0]);
    return weekday ? std::optional<year_month_day>(sys_days(today) - (std::chrono::weekday(sys_days(today)) - std::chrono::weekday(*weekday)))
                   : std::nullopt;
  }
  if (parts.size() > 3 || parts.empty()) return std::nullopt;
  std::optional<int> const a = number(parts[0]), b = number(parts[1]), c = parts.size() == 3 ? number(parts[2]) : std::nullopt;
  if (parts.size() == 3 && !c) return std::nullopt;
  if (auto const month = place_in(kMonths, parts[0]); month && b) return dated(c, *month + 1, static_cast<unsigned>(*b), today);
  if (auto const month = place_in(kMonths, parts[1]); month && a) return dated(c, *month + 1, static_cast<unsigned>(*a), today);
  if (!a || !b) return std::nullopt;
  if (parts[0].size() == 4 && c) return dated(a, static_cast<unsigned>(*b), static_cast<unsigned>(*c), today);
  return dated(c, static_cast<unsigned>(*a), static_cast<unsigned>(*b), today);
}

}  // namespace

Result<std::string> parse_day(std::string_view text, long long now) {
  auto const day = read(parts_of(text), day_of(now));
  if (!day || !day->ok()) return Error{ErrorKind::usage, in_quotes(text) + " is no day: write today, yesterday, 2026-11-27, 11/27/2026 or Nov 27"};
  std::array<char, 32> written{};
  std::snprintf(written.data(), written.size(), "%04d-%02u-%02u", static_cast<int>(day->year()), static_cast<unsigned>(day->month()),
                static_cast<unsigned>(day->day()));
  return std::string(written.data());
}

}  // namespace layright
