#include "command/day_words.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <ctime>
#include <string>

using namespace layright;

namespace {
void live_in(char const* zone) {
  setenv("TZ", zone, 1);
  tzset();
}
constexpr long long kNight = 1795926600'000;  // 2026-11-29T04:30:00Z, by date -u: a Sunday; the evening before in New York
}  // namespace

TEST_CASE("a day is read as people write it") {
  live_in("UTC");
  auto const [text, day] = GENERATE(table<std::string, std::string>({
      {"today", "2026-11-29"},
      {"Yesterday", "2026-11-28"},
      {"2026-11-27", "2026-11-27"},
      {"11/27/2026", "2026-11-27"},
      {"11/27/26", "2026-11-27"},
      {"11/27", "2026-11-27"},
      {"12/24", "2025-12-24"},
      {"Nov 27", "2026-11-27"},
      {"november 27, 2026", "2026-11-27"},
      {"27 Nov 2026", "2026-11-27"},
      {"sunday", "2026-11-29"},
      {"Mon", "2026-11-23"},
  }));
  CAPTURE(text);
  auto const read = parse_day(text, kNight);
  REQUIRE(read);
  CHECK(*read == day);
}

TEST_CASE("today is the shop's") {
  live_in("EST5");
  CHECK(*parse_day("today", kNight) == "2026-11-28");
  live_in("JST-9");
  CHECK(*parse_day("today", kNight) == "2026-11-29");
  live_in("UTC");
}

TEST_CASE("what is no day is an error") {
  live_in("UTC");
  for (auto const* text : {"", "someday", "2026-13-01", "2/30/2026", "2026-11", "27", "last tuesdayish", "1/2/3/4", "no 27", "2026-11-27x"}) {
    CAPTURE(text);
    auto const read = parse_day(text, kNight);
    REQUIRE_FALSE(read);
    CHECK(read.error().kind == ErrorKind::usage);
  }
}
