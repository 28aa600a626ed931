// How the film is pressed, as the configuration says it. 160 degrees Celsius are 320 Fahrenheit by definition (F = 1.8 C + 32).
#include "sheet/heat_press.h"

#include <catch2/catch.hpp>

#include "sheet/configuration.h"

using namespace layright;

namespace {

HeatPress target_heat(std::string const& lines) {
  auto const read = parse_configuration("[target.t]\nsheet = \"narrow-film\"\n" + lines, "/shop/layright.toml");
  REQUIRE(read);
  return read->targets.at("t").heat;
}

}  // namespace

TEST_CASE("times and temperatures of a heat press are read with their units") {
  CHECK(parse_press_time("15s").value() == 15);
  CHECK(parse_press_time("15 s").value() == 15);
  CHECK(parse_press_time("0.5min").value() == 30);
  HeatPress heat;
  REQUIRE(parse_press_temperature("320F", heat));
  CHECK(*heat.celsius == Approx(160));
  CHECK(heat.in_fahrenheit);
  REQUIRE(parse_press_temperature("160 °C", heat));
  CHECK(*heat.celsius == 160);
  CHECK_FALSE(heat.in_fahrenheit);
}

TEST_CASE("what no heat press is set to is refused") {
  auto const time = GENERATE("15", "s", "0s", "601s", "15h", "-1s", "1.2.3s", "");
  CHECK_FALSE(parse_press_time(time));
  HeatPress heat;
  auto const temperature = GENERATE("320", "F", "49C", "261C", "600F", "160K", "", "hot");
  CHECK_FALSE(parse_press_temperature(temperature, heat));
  CHECK_FALSE(heat.said());
}

TEST_CASE("both scales are shown, the shop's own first") {
  CHECK(heat_press_words({}).empty());
  CHECK(heat_press_words({15, 160, true, "medium"}) == "15 s, 320 °F (160 °C), medium pressure");
  CHECK(heat_press_words({std::nullopt, 160, false, ""}) == "160 °C (320 °F)");
  CHECK(heat_press_words({7.5, std::nullopt, false, "40 psi"}) == "7.5 s, 40 psi pressure");
}

TEST_CASE("a target says how its film is pressed") {
  auto const heat = target_heat("heat-time = \"0.5min\"\nheat-temperature = \"320F\"\nheat-pressure = \"firm\"\n");
  REQUIRE((heat.seconds && heat.celsius));
  CHECK(*heat.seconds == 30);
  CHECK(*heat.celsius == Approx(160));
  CHECK(heat.in_fahrenheit);
  CHECK(heat.pressure == "firm");
  CHECK_FALSE(target_heat("").said());
  for (auto const& [line, answer] :
       {std::pair("heat-time = 15", "a time in quotes"), std::pair("heat-time = \"15\"", "no time for a heat press"),
        std::pair("heat-temperature = \"320\"", "write degrees and F or C"), std::pair("heat-temperature = \"900F\"", "no temperature"),
        std::pair("heat-pressure = 3", "light, medium, firm"), std::pair("heat-pressur = \"firm\"", "heat-pressure")}) {
    auto const refused = parse_configuration("[target.t]\nsheet = \"narrow-film\"\n" + std::string(line) + "\n", "/shop/layright.toml");
    REQUIRE_FALSE(refused);
    CHECK_THAT(refused.error().message, Catch::Contains(answer) && Catch::Contains("3"));
  }
}
