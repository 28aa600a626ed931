// Which pages a person means (computed by hand from the rule in inspect.h).
#include <catch2/catch.hpp>

#include "job/inspect.h"

namespace layright {

TEST_CASE("lists of pages", "[pages]") {
  auto const [text, has, has_not] = GENERATE(table<std::string, std::vector<int>, std::vector<int>>({
      {"1", {1}, {2}},
      {"1-3,7", {1, 2, 3, 7}, {4, 6, 8}},
      {"5-5", {5}, {4, 6}},
      {"2,1", {1, 2}, {3}},
      {"2147483647", {2147483647}, {1}},
  }));
  auto const choice = PageChoice::parse(text);
  REQUIRE(choice);
  for (int n : has) CHECK(choice->has(n));
  for (int n : has_not) CHECK_FALSE(choice->has(n));
}

TEST_CASE("what is no list of pages is refused", "[pages]") {
  auto const text = GENERATE(as<std::string>{}, "", "0", "-1", "1-", "-3", "3-1", "1,,2", "1,", "a", "1.5", " 1", "1 ", "99999999999", "1-2-3");
  auto const choice = PageChoice::parse(text);
  REQUIRE_FALSE(choice);
  CHECK(choice.error().kind == ErrorKind::usage);
}

TEST_CASE("pages beyond the last are reported", "[pages]") {
  CHECK(PageChoice::parse("1-3,7")->beyond(3) == std::vector<int>{7});
  CHECK(PageChoice::parse("2-9")->beyond(3) == std::vector<int>{4});
  CHECK(PageChoice::parse("1-3")->beyond(3).empty());
}

}  // namespace layright
