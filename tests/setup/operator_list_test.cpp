// The operator's list: the order of the work, the reversal in words, the cautions.
#include "setup/operator_list.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "setup/press_setup.h"
#include "setup/queue_guards.h"
#include "support/places.h"
#include "support/press_target.h"

using namespace layright;

TEST_CASE("the list goes in the order of the work and ends with the cautions") {
  auto target = film_target(8.5, 17);
  target.press.ppd = std::string(layright::test::kTestfiles) + "/press/bench.ppd";
  auto const press = prepare_press(target, std::nullopt, Unit::inch);
  REQUIRE(press);
  auto const text = operator_text(operator_list(target, press->setup, std::nullopt, Unit::inch));
  std::size_t last = 0;
  for (char const* part : {"Sheet: Take film of 8.5 x 17 in", "Load: Put it into the tray \"Multipurpose tray\", short edge first",
                           "as the film's data sheet says", "Way out: Open the exit \"Straight, face up\"", "Page size: PageSize = Custom.612x1224",
                           "Tray: InputSlot = Multipurpose", "White layer: WhiteLayer = Under", "White layer at 80 % of one full layer",
                           "Mirror: The file must read mirrored. Neither the printer nor the RIP may mirror. The printed sheet must read mirrored",
                           "Print: Send the job, one sheet", "Look: Before pressing", "has not been tried", "rates for laser fusing",
                           "data sheets of film, press and heat press"}) {
    auto const at = text.find(part, last);
    INFO(part << "\n" << text);
    REQUIRE(at != std::string::npos);
    last = at;
  }
}

TEST_CASE("what is set by hand stands in its place, and not among the remarks") {
  auto target = film_target(8.5, 17);
  target.press.ppd = std::string(layright::test::kTestfiles) + "/press/bench.ppd";
  target.press.media_type = "labels";  // its driver has no such paper
  auto const press = prepare_press(target, std::nullopt, Unit::inch);
  REQUIRE(press);
  auto const list = operator_list(target, press->setup, std::nullopt, Unit::inch);
  std::vector<std::string> headings;
  for (auto const& step : list.steps) headings.push_back(step.heading);
  auto const media = std::find(headings.begin(), headings.end(), "Media type");
  REQUIRE(media != headings.end());
  CHECK(*(media - 1) == "Tray");
  CHECK(*(media + 1) == "Exit");
  CHECK_THAT(list.steps[static_cast<std::size_t>(media - headings.begin())].text,
             Catch::Contains("By hand:") && Catch::Contains("media-type labels") && Catch::Contains("Heavy"));
  for (auto const& line : list.watch) CHECK(line.find("media-type labels") == std::string::npos);
}

TEST_CASE("dark goods on a press without white are reported") {
  auto target = film_target(8.5, 17);
  auto const reported = [&] {
    auto const text = operator_text(operator_list(target, PressSetup{}, std::nullopt, Unit::inch));
    return text.find("white parts will not print") != std::string::npos;
  };
  for (bool const dark : {false, true})
    for (bool const prints_white : {false, true}) {
      target.dark_goods = dark;
      target.press.prints_white = prints_white;
      CHECK(reported() == (dark && !prints_white));
    }
}

TEST_CASE("who reverses, for every target") {
  struct Row {
    WantedReading reading;
    ReverseAt at;
    char const *file, *who, *printed;
  };
  // DESIGN: reading is that of the printed sheet, and exactly one party reverses.
  auto const row =
      GENERATE(Row{WantedReading::wrong, ReverseAt::file, "file must read mirrored", "Neither", "must read mirrored"},
               Row{WantedReading::wrong, ReverseAt::printer, "file must read the right way round", "The printer mirrors it", "must read mirrored"},
               Row{WantedReading::wrong, ReverseAt::rip, "file must read the right way round", "The RIP mirrors it; the printer must not",
                   "must read mirrored"},
               Row{WantedReading::right, ReverseAt::file, "file must read the right way round", "Neither", "must read the right way round"},
               Row{WantedReading::right, ReverseAt::printer, "file must read mirrored", "The printer mirrors it", "must read the right way round"},
               Row{WantedReading::as_is, ReverseAt::file, "prints as the file is", "Mirror OFF at the press", "Nobody said"});
  Target target;
  target.reading = row.reading;
  target.reverse_at = row.at;
  CHECK_THAT(reversal_words(target), Catch::Contains(row.file) && Catch::Contains(row.who) && Catch::Contains(row.printed));
}

TEST_CASE("a press without a PPD is told in IPP's words") {
  auto target = film_target(8.5, 17);
  target.reverse_at = ReverseAt::printer;
  auto const press = prepare_press(target, std::nullopt, Unit::inch);
  REQUIRE(press);
  CHECK_FALSE(press->ppd);
  CHECK(press->setup.about(Topic::tray)->choice == "by-pass-tray");
  REQUIRE(press->setup.findings.size() == 1);
  CHECK(press->setup.findings[0].level == Level::hold);  // nobody said how this printer reverses
  CHECK_THAT(option_lines(queue_options(target, press->setup)), Catch::Contains("media-type=transparency\n"));
}
