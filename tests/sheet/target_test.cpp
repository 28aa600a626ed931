#include "sheet/target.h"

#include <catch2/catch.hpp>

using namespace layright;
using Catch::Matchers::Contains;

namespace {
template <class Value, class Parse>
void check_both_ways(Parse parse, std::vector<std::pair<Value, std::string>> const& words) {
  for (auto const& [value, text] : words) {
    CAPTURE(text);
    if constexpr (requires(Value v) { word(v); }) CHECK(word(value) == text);
    auto const parsed = parse(text);
    REQUIRE(parsed);
    CHECK(*parsed == value);
  }
  for (std::string const bad : {"", "nonsense", "Right", "short edge", " ink"}) {
    auto const parsed = parse(bad);
    REQUIRE_FALSE(parsed);
    CHECK(parsed.error().kind == ErrorKind::usage);
    for (auto const& [value, text] : words) CHECK_THAT(parsed.error().message, Contains(text));
  }
}
}  // namespace

TEST_CASE("words of the configuration go both ways, and a wrong one is answered with the list") {
  check_both_ways<WantedReading>(parse_wanted_reading,
                                 {{WantedReading::as_is, "as-is"}, {WantedReading::right, "right"}, {WantedReading::wrong, "wrong"}});
  check_both_ways<ReverseAt>(parse_reverse_at, {{ReverseAt::file, "file"}, {ReverseAt::printer, "printer"}, {ReverseAt::rip, "rip"}});
  check_both_ways<UnknownReads>(parse_unknown_reads, {{UnknownReads::hold, "hold"}, {UnknownReads::right, "right"}, {UnknownReads::wrong, "wrong"}});
  check_both_ways<Feed>(parse_feed, {{Feed::short_edge, "short-edge"}, {Feed::long_edge, "long-edge"}});
  check_both_ways<PlaceBy>(parse_place_by, {{PlaceBy::ink, "ink"}, {PlaceBy::trim, "trim"}, {PlaceBy::page, "page"}});
  check_both_ways<Render>(parse_render, {{Render::automatic, "auto"}, {Render::graphics, "graphics"}, {Render::pictures, "pictures"}});
  check_both_ways<Anchor>(parse_anchor, {{Anchor::centre, "center"},
                                         {Anchor::top, "top"},
                                         {Anchor::bottom, "bottom"},
                                         {Anchor::left, "left"},
                                         {Anchor::right, "right"},
                                         {Anchor::top_left, "top-left"},
                                         {Anchor::top_right, "top-right"},
                                         {Anchor::bottom_left, "bottom-left"},
                                         {Anchor::bottom_right, "bottom-right"}});
  for (auto const* text : {"mirrored", "reversed"}) {
    CHECK(*parse_wanted_reading(text) == WantedReading::wrong);
    CHECK(*parse_incoming(text) == Reading::wrong);
  }
  CHECK(*parse_incoming("right") == Reading::right);
  CHECK_THAT(parse_incoming("up").error().message, Contains("neither right nor wrong"));
  CHECK(*parse_anchor("centre") == Anchor::centre);
  CHECK(word(Reading::unknown) == "unknown");
  CHECK(word(Reading::right) == "right");
  CHECK(word(Reading::wrong) == "wrong");
  CHECK(word(Reading::mixed) == "mixed");
}

TEST_CASE("scales are a word or a percentage above zero") {
  using Scale = PlacementOptions::Scale;
  auto const [text, scale, percent] = GENERATE(table<std::string, Scale, double>({{"keep", Scale::keep, 100},
                                                                                  {"fit", Scale::fit, 100},
                                                                                  {"shrink", Scale::shrink, 100},
                                                                                  {"80%", Scale::percent, 80},
                                                                                  {"12.5 %", Scale::percent, 12.5},
                                                                                  {"400%", Scale::percent, 400}}));
  PlacementOptions options;
  options.percent = 7;
  REQUIRE(parse_scale(text, options));
  CHECK(options.scale == scale);
  CHECK(options.percent == percent);
}

TEST_CASE("what is no scale changes nothing") {
  auto const text = GENERATE(as<std::string>{}, "", "80", "%", "0%", "-5%", "1e2%", "80%%", "8,5%", "Fit", "nan%", "inf%", "1.2.3%");
  PlacementOptions options;
  options.scale = PlacementOptions::Scale::shrink;
  auto const parsed = parse_scale(text, options);
  REQUIRE_FALSE(parsed);
  CHECK_THAT(parsed.error().message, Contains("keep, fit, shrink or a percentage"));
  CHECK(options.scale == PlacementOptions::Scale::shrink);
  CHECK(options.percent == 100);
}

TEST_CASE("turns are auto or one of four") {
  CHECK(*parse_turn("auto") == std::nullopt);
  CHECK(*parse_turn("0") == Turn::none);
  CHECK(*parse_turn("90") == Turn::quarter);
  CHECK(*parse_turn("180") == Turn::half);
  CHECK(*parse_turn("270") == Turn::three_quarters);
  for (auto const* const text : {"", "45", "360", "-90", "90.0", "Auto"}) CHECK_FALSE(parse_turn(text));
}

TEST_CASE("white is off, on, or a share of one full layer") {
  CHECK_FALSE(parse_white("off")->on);
  CHECK(parse_white("on")->on);
  CHECK_FALSE(parse_white("on")->percent);
  CHECK(parse_white("150%")->percent == 150.0);
  CHECK(parse_white("200%")->percent == 200.0);
  auto const [text, why] = GENERATE(table<std::string, std::string>({{"400.1%", "more than four full layers"},
                                                                     {"0%", "use off"},
                                                                     {"-10%", "use off, on or a share of one full layer"},
                                                                     {"150", "use off, on or a share of one full layer"},
                                                                     {"", "use off, on or a share of one full layer"},
                                                                     {"nan%", "use off, on or a share of one full layer"}}));
  auto const white = parse_white(text);
  REQUIRE_FALSE(white);
  CHECK_THAT(white.error().message, Contains(why));
}

TEST_CASE("the file reads as the print must, unless somebody reverses after it") {
  auto const [wanted, by, file] = GENERATE(table<WantedReading, ReverseAt, std::optional<Reading>>({
      {WantedReading::right, ReverseAt::file, Reading::right},
      {WantedReading::wrong, ReverseAt::file, Reading::wrong},
      {WantedReading::right, ReverseAt::printer, Reading::wrong},
      {WantedReading::wrong, ReverseAt::printer, Reading::right},
      {WantedReading::right, ReverseAt::rip, Reading::wrong},
      {WantedReading::wrong, ReverseAt::rip, Reading::right},
      {WantedReading::as_is, ReverseAt::file, std::nullopt},
      {WantedReading::as_is, ReverseAt::printer, std::nullopt},
      {WantedReading::as_is, ReverseAt::rip, std::nullopt},
  }));
  Target target;
  target.reading = wanted;
  target.reverse_at = by;
  CHECK((reading_of_file(target) == file));
}

TEST_CASE("reversing twice is not reversing") {
  auto const reading = GENERATE(Reading::unknown, Reading::right, Reading::wrong, Reading::mixed);
  CHECK(reversed(reversed(reading)) == reading);
  CHECK((reversed(reading) == reading) == (reading == Reading::unknown || reading == Reading::mixed));
}

TEST_CASE("paper-white is ink only on a press that lays white") {
  Target target;
  CHECK_FALSE(target.white_prints());
  target.press.prints_white = true;
  CHECK(target.white_prints());
}
