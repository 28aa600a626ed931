// What is read off a trial sheet, and how it is kept.
#include "sheet/trial.h"

#include <catch2/catch.hpp>
#include <fstream>

#include "sheet/configuration.h"
#include "support/program.h"

using namespace layright;
using test::Folder;

TEST_CASE("measured values") {
  auto const trial = parse_trial("reads=wrong,leading=2,shift-x=0.5mm,shift-y=-1mm,along=252.5mm/250mm,across=0.999,left=4mm,top=0.25in", "2026-03-01");
  REQUIRE(trial);
  CHECK(trial->reads == Reading::wrong);
  CHECK(trial->leading == Corner::top_right);
  CHECK(trial->shift_y->in_millimetres() == Approx(-1));
  CHECK(*trial->stretch_along == Approx(1.01));
  CHECK(trial->unprintable().left.in_millimetres() == Approx(4));
  CHECK(trial->unprintable().top.in_inches() == Approx(0.25));
  for (char const* bad : {"", "reads", "reads=mirrored", "leading=5", "shift-x=3", "shift-x=3in", "left=-1mm", "along=2", "along=1mm/0mm", "along=nan", "colour=red",
                          "reads=wrong,,left=1mm"}) {
    auto const refused = parse_trial(bad, "2026-03-01");
    INFO(bad);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().kind == ErrorKind::usage);
  }
}

TEST_CASE("trials are kept press by press, beside the configuration") {
  Folder const folder;
  auto const configuration = folder / "layright.toml";
  CHECK(read_trials(configuration).value().empty());
  auto const write = [&](std::string const& press, char const* measured, char const* date) {
    auto const text = with_trial(configuration, press, parse_trial(measured, date).value());
    REQUIRE(text);
    std::ofstream(trial_file(configuration), std::ios::binary) << *text;
  };
  write("bench", "reads=right,left=4mm,top=5mm", "2026-03-01");
  write("b\"ench two", "reads=wrong", "2026-03-02");
  write("bench", "along=1.002,top=0mm", "2026-03-03");
  auto const trials = read_trials(configuration);
  REQUIRE(trials);
  auto const& bench = trials->at("bench");
  CHECK(bench.date == "2026-03-03");
  CHECK(bench.reads == Reading::right);
  CHECK(bench.unprintable().left.in_millimetres() == Approx(4));
  CHECK(bench.unprintable().top == Length());  // measured anew: it prints to the edge
  CHECK(*bench.stretch_along == Approx(1.002));
  CHECK(trials->at("b\"ench two").reads == Reading::wrong);
  CHECK_THAT(trial_words(bench, Unit::millimetre), Catch::Contains("2026-03-03") && Catch::Contains("did not reverse") && Catch::Contains("100.2 %"));
  for (char const* spoilt : {"x = 1", "[bench]\nreads = 1", "[bench]\nreads = \"left\"", "[bench", "[bench]\ntried = \"soon\""}) {
    std::ofstream(trial_file(configuration), std::ios::binary) << spoilt;
    auto const refused = read_trials(configuration);
    INFO(spoilt);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().kind == ErrorKind::data);
    CHECK_THAT(refused.error().message, Catch::Contains("layright.trials.toml"));
  }
}

TEST_CASE("what a trial showed, in words") {
  auto const words = [](char const* measured) { return trial_words(parse_trial(measured, "2026-03-01").value(), Unit::millimetre); };
  CHECK(words("reads=wrong,leading=3") == "last tried on 2026-03-01; the press reversed it; the edge that leads begins at corner 3.");
  CHECK(words("shift-x=-1.5mm,shift-y=2mm") == "last tried on 2026-03-01; it prints 1.5 mm too far left and 2 mm too far up.");
  CHECK(words("shift-y=-2mm") == "last tried on 2026-03-01; it prints 2 mm too far down.");
  CHECK(words("shift-x=0mm") == "last tried on 2026-03-01; it prints in its place.");
  CHECK(words("across=0.99,left=4mm,top=0mm") == "last tried on 2026-03-01; across the feed 99 %; blank edges: left 4 mm.");
}

TEST_CASE("a configuration that is loaded knows what its presses' trial sheets told, also where a target names the press") {
  Folder const folder;
  auto const path = folder / "layright.toml";
  std::ofstream(path) << "[sheet.film]\nsize = \"8.5x17in\"\n[press.bench]\ncorrect = true\n[press.other]\n[target.shirt]\nsheet = \"film\"\npress = "
                         "\"bench\"\n";
  std::ofstream(trial_file(path)) << "[bench]\ntried = \"2026-03-01\"\nshift-x = \"0.5mm\"\n[gone]\ntried = \"2026-03-01\"\n";
  auto const known = load_configuration(path);
  INFO((known ? "" : known.error().message));
  REQUIRE(known);
  CHECK(known->presses.at("bench").correct);
  CHECK(known->presses.at("bench").trial->shift_x->in_millimetres() == Approx(0.5));
  CHECK(known->targets.at("shirt").press.trial->date == "2026-03-01");
  CHECK_FALSE(known->presses.at("other").trial);
  CHECK_FALSE(known->presses.at("other").correct);
  std::ofstream(trial_file(path)) << "spoilt";
  CHECK(load_configuration(path).error().kind == ErrorKind::data);
}
