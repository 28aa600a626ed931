#include "geometry/length.h"

#include <catch2/catch.hpp>
#include <limits>
#include <type_traits>

#include "base/in_quotes.h"

using namespace layright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {
constexpr double kNoise = 1e-9;  // points; arithmetic only
}

// 1 in = 25.4 mm exactly (international inch); a default user space unit is 1/72 in (ISO 32000-1, 8.3.2.3).
TEST_CASE("an inch is 25.4 mm is 72 pt") {
  CHECK(Length::inches(1).in_points() == 72.0);
  CHECK(Length::millimetres(25.4).in_points() == 72.0);
  CHECK(Length::points(72).in_inches() == 1.0);
  CHECK_THAT(Length::points(72).in_millimetres(), WithinAbs(25.4, kNoise));
  CHECK(Length::inches(2).in(Unit::point) == 144.0);
  CHECK(Length::inches(2).in(Unit::inch) == 2.0);
  CHECK_THAT(Length::inches(2).in(Unit::millimetre), WithinAbs(50.8, kNoise));
}

TEST_CASE("a bare number is no length") {
  STATIC_REQUIRE_FALSE(std::is_convertible_v<double, Length>);
  STATIC_REQUIRE_FALSE(std::is_convertible_v<Length, double>);
}

TEST_CASE("lengths add, scale, compare and give ratios") {
  CHECK(Length::inches(1) + Length::points(18) == Length::points(90));
  CHECK(Length::inches(1) - Length::points(18) == Length::points(54));
  CHECK(-Length::inches(1) == Length::points(-72));
  CHECK(Length::inches(1) * 0.5 == Length::points(36));
  CHECK(Length::inches(17) / Length::inches(8.5) == 2.0);
  CHECK(Length::points(71.9) < Length::inches(1));
}

// Expected points computed by hand from 1 in = 25.4 mm = 72 pt.
TEST_CASE("lengths are read with their unit") {
  auto const [text, points] = GENERATE(table<std::string, double>({
      {"0.25in", 18},
      {"6.35 mm", 18},
      {"18pt", 18},
      {"0.635cm", 18},
      {" 0.25\tin ", 18},
      {".25in", 18},
      {"+0.25in", 18},
      {"-0.25in", -18},
      {"0in", 0},
      {"-0pt", 0},
      {"0.25IN", 18},
      {"17in", 1224},
      {"317.5mm", 900},
      {"482.6mm", 1368},
      {"00012pt", 12},
      {"0.0000001pt", 1e-7},
  }));
  CAPTURE(text);
  auto const length = parse_length(text);
  REQUIRE(length);
  CHECK_THAT(length->in_points(), WithinAbs(points, kNoise));
}

TEST_CASE("lengths are taken as people type them") {
  auto const [text, points] = GENERATE(table<std::string, double>({
      {"1/4in", 18},  // what the margin is
      {"-1/4in", -18},
      {"1 1/2in", 108},
      {"1-1/2 in", 108},
      {"1\u00bd\"", 108},
      {"\u00bc in", 18},
      {"10inch", 720},
      {"10 inches", 720},
      {"1 in.", 72},
      {"1\"", 72},
      {"1\u201d", 72},
      {"1\u2033", 72},
      {"1''", 72},
      {"25.4 millimeters", 72},
      {"18 points", 18},
  }));
  CAPTURE(text);
  auto const length = parse_length(text);
  REQUIRE(length);
  CHECK_THAT(length->in_points(), WithinAbs(points, kNoise));
}

TEST_CASE("what is no length is refused, and told why") {
  auto const [text, why] = GENERATE(table<std::string, std::string>({
      {"", "decimal number and its unit"},
      {"  ", "decimal number and its unit"},
      {"0.25", "the unit is missing"},
      {"in", "decimal number and its unit"},
      {"0,25in", "decimal point, not a comma"},
      {"1/0in", "decimal number and its unit"},
      {"1/in", "decimal number and its unit"},
      {"1 3/2in", "decimal number and its unit"},
      {"1/2/3in", "decimal number and its unit"},
      {"1.5 1/2in", "decimal number and its unit"},
      {"1/-4in", "decimal number and its unit"},
      {"1.2.3in", "decimal number and its unit"},
      {"5.in", "decimal number and its unit"},
      {".in", "decimal number and its unit"},
      {"--1in", "decimal number and its unit"},
      {"+-1in", "decimal number and its unit"},
      {"- 1in", "decimal number and its unit"},
      {"1e3in", "the unit must be"},
      {"0x10in", "the unit must be"},
      {"nan", "decimal number and its unit"},
      {"infin", "decimal number and its unit"},
      {"1inchs", "the unit must be"},
      {"\"", "decimal number and its unit"},
      {"1in x", "the unit must be"},
      {"1 ft", "the unit must be"},
      {"1in\n", "the unit must be"},
      {"\xEF\xBC\x91in", "decimal number and its unit"},  // a full-width digit
      {std::string(400, '9') + "in", "decimal number and its unit"},
      {std::string(308, '9') + "in", "the unit must be"},  // finite as a number, not in points
      {std::string("1\0in", 4), "decimal number and its unit"},
  }));
  CAPTURE(text);
  auto const length = parse_length(text);
  REQUIRE_FALSE(length);
  CHECK(length.error().kind == ErrorKind::usage);
  CHECK_THAT(length.error().message, Contains(why));
}

TEST_CASE("lengths are written for people") {
  auto const [points, unit, text] = GENERATE(table<double, Unit, std::string>({
      {18, Unit::inch, "0.25 in"},
      {18, Unit::millimetre, "6.35 mm"},
      {18, Unit::point, "18 pt"},
      {612, Unit::inch, "8.5 in"},
      {0.1, Unit::inch, "0.001 in"},
      {0.01, Unit::inch, "0 in"},
      {-0.01, Unit::inch, "0 in"},
      {-18, Unit::inch, "-0.25 in"},
      {72000000, Unit::inch, "1000000 in"},
      {100, Unit::point, "100 pt"},
      {0.04, Unit::point, "0 pt"},
      {595.276, Unit::millimetre, "210 mm"},
  }));
  CHECK(format_length(Length::points(points), unit) == text);
}

TEST_CASE("sizes say their unit once") {
  CHECK(format_size(Length::inches(8.5), Length::inches(17), Unit::inch) == "8.5 x 17 in");
  CHECK(format_size(Length::inches(8.5), Length::inches(17), Unit::millimetre) == "215.9 x 431.8 mm");
  CHECK(format_size(Length::inches(8.5), Length::inches(17), Unit::point) == "612 x 1224 pt");
}

TEST_CASE("numbers lose their trailing zeros and a lonely minus") {
  auto const [value, decimals, text] = GENERATE(table<double, int, std::string>({
      {1.0, 3, "1"},
      {1.5, 3, "1.5"},
      {1.0005, 2, "1"},
      {100, 0, "100"},
      {-0.0, 2, "0"},
      {-0.001, 2, "0"},
      {-1.25, 2, "-1.25"},
      {0.125, 2, "0.12"},  // exactly half way: to even, as IEEE 754 rounds
      {2.675, 2, "2.67"},  // the nearest double lies below
      {1e20, 2, "100000000000000000000"},
      {3.7, -5, "4"},
  }));
  CHECK(format_number(value, decimals) == text);
}

TEST_CASE("numbers at the ends of their range are written whole") {
  CHECK(format_number(std::numeric_limits<double>::max(), 3).size() == 309);
  CHECK(format_number(-std::numeric_limits<double>::max(), 3).size() == 310);
  CHECK(format_number(std::numeric_limits<double>::denorm_min(), 3) == "0");
}

TEST_CASE("units are named both ways") {
  for (Unit const unit : {Unit::inch, Unit::millimetre, Unit::point}) CHECK(*parse_unit(unit_name(unit)) == unit);
  for (auto const* const text : {"", "inch", "IN", "cm", "mm "}) {
    auto const unit = parse_unit(text);
    REQUIRE_FALSE(unit);
    CHECK(unit.error().kind == ErrorKind::usage);
    CHECK_THAT(unit.error().message, Contains("in, mm or pt"));
  }
}

TEST_CASE("what is written is read as the same length") {
  double const points = GENERATE(take(200, random(-14400.0, 14400.0)));
  for (auto const& [unit, step] : {std::pair{Unit::inch, 0.001 * 72}, {Unit::millimetre, 0.01 * 72 / 25.4}, {Unit::point, 0.1}}) {
    auto const again = parse_length(format_length(Length::points(points), unit));
    REQUIRE(again);
    CHECK_THAT(again->in_points(), WithinAbs(points, step / 2 + kNoise));
  }
}

TEST_CASE("the user's words fit into a message's line") {
  CHECK(in_quotes("A4") == "\"A4\"");
  CHECK(in_quotes("") == "\"\"");
  CHECK(in_quotes("a\nb\x1B[0m\x7F") == "\"a?b?[0m?\"");
  CHECK(in_quotes(std::string(60, 'a')) == "\"" + std::string(60, 'a') + "\"");
  CHECK(in_quotes(std::string(61, 'a')) == "\"" + std::string(60, 'a') + "…\"");
  CHECK(in_quotes(std::string(59, 'a') + "ééé") == "\"" + std::string(59, 'a') + "…\"");
  CHECK(in_quotes(std::string(100, '\x80')) == "\"…\"");
}
