// What is read off a trial sheet, and how it is kept.
#include "sheet/trial.h"

#include <array>
#include <catch2/catch.hpp>
#include <fstream>

#include "sheet/configuration.h"
#include "support/program.h"

using namespace layright;
using test::Folder;

TEST_CASE("measured values") {
  auto const trial =
      parse_trial("reads=wrong,leading=23,shift-x=0.5mm,shift-y=-1mm,along=252.5mm/250mm,across=0.999,left=4mm,top=0.25in", "2026-03-01");
  REQUIRE(trial);
  CHECK(trial->reads == Reading::wrong);
  CHECK(trial->leading == Corner::top_right);
  CHECK(trial->shift_y->in_millimetres() == Approx(-1));
  CHECK(*trial->stretch_along == Approx(1.01));
  CHECK(trial->unprintable().left.in_millimetres() == Approx(4));
  CHECK(trial->unprintable().top.in_inches() == Approx(0.25));
  for (char const* bad : {"", "reads", "reads=mirrored", "leading=5", "shift-x=3", "shift-x=3in", "left=-1mm", "along=2", "along=1mm/0mm",
                          "along=nan", "colour=red", "reads=wrong,,left=1mm", "leading=13", "leading=1", "blank23=3mm", "reads=right,a=25mm",
                          "reads=right,a=25mm,b=25mm,c=25mm,d=25mm,e=25mm,f=25mm,g=25mm"}) {
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

// Worked out by hand: with the edge away from the reader its left end is its first corner clockwise, and in a mirror its second.
TEST_CASE("one number tells the edge as well, whoever reversed") {
  auto const [measured, edge] = GENERATE(table<char const*, Corner>({{"reads=right,leading=1", Corner::top_left},
                                                                     {"leading=2,reads=right", Corner::top_right},
                                                                     {"reads=right,leading=3", Corner::bottom_right},
                                                                     {"reads=right,leading=4", Corner::bottom_left},
                                                                     {"reads=wrong,leading=2", Corner::top_left},
                                                                     {"leading=3,reads=wrong", Corner::top_right},
                                                                     {"reads=wrong,leading=4", Corner::bottom_right},
                                                                     {"reads=wrong,leading=1", Corner::bottom_left}}));
  INFO(measured);
  CHECK(parse_trial(measured, "2026-03-01")->leading == edge);
}

// A person with a ruler: the file's frame, 25 mm inside a sheet of 216 x 432 mm, is put onto paper mirrored or not, shifted and leaning, and each
// gap is measured where its letter came to lie.
TEST_CASE("what is read off any of the eight prints by the printed rule gives what the press did") {
  bool const mirrored = GENERATE(false, true);
  int const edge = GENERATE(0, 1, 2, 3);
  constexpr double kWidth = 216, kLength = 432, kGap = 25, kRight = 1.5, kUp = -0.8, kLean = 0.6;
  struct Place {
    char name;
    double x, y;
    bool on_side;
  };
  double const x0 = kGap, x1 = kWidth - kGap, y0 = kGap, y1 = kLength - kGap;
  std::string measured =
      std::string("reads=") + (mirrored ? "wrong" : "right") + ",leading=" + (std::array{"12", "32", "34", "14"})[static_cast<std::size_t>(edge)];
  for (Place const& p : {Place{'A', x0, y1, false},
                         {'b', x1, y1, false},
                         {'c', x1, y1, true},
                         {'d', x1, y0, true},
                         {'e', x1, y0, false},
                         {'f', x0, y0, false},
                         {'g', x0, y0, true},
                         {'h', x0, y1, true}}) {
    double const x = (mirrored ? kWidth - p.x : p.x) + kRight + kLean * ((y1 - p.y) / (y1 - y0) - 0.5), y = p.y + kUp;
    double const gap = p.on_side ? std::min(x, kWidth - x) : std::min(y, kLength - y);
    measured += std::string(",") + p.name + "=" + format_number(gap, 4) + "mm";
  }
  // As it lies 2 mm stay blank at the left and 3 mm at the right, 4 mm at the top and 5 mm at the bottom.
  measured += std::string(",blank12=4mm,blank34=5mm") + (mirrored ? ",blank23=2mm,blank41=3mm" : ",blank23=3mm,blank41=2mm");
  INFO(measured);
  auto const trial = parse_trial(measured, "2026-03-01");
  REQUIRE(trial);
  CHECK(trial->reads == (mirrored ? Reading::wrong : Reading::right));
  CHECK(static_cast<int>(*trial->leading) == edge + 1);
  CHECK(trial->shift_x->in_millimetres() == Approx(kRight).margin(0.001));
  CHECK(trial->shift_y->in_millimetres() == Approx(kUp).margin(0.001));
  CHECK(trial->lean->in_millimetres() == Approx(kLean).margin(0.001));
  CHECK(trial->left->in_millimetres() == Approx(2));
  CHECK(trial->right->in_millimetres() == Approx(3));
  CHECK(trial->top->in_millimetres() == Approx(4));
  CHECK(trial->bottom->in_millimetres() == Approx(5));
  CHECK_THAT(trial_words(*trial, Unit::millimetre),
             Catch::Contains(
                 "it prints 1.5 mm too far right and 0.8 mm too far down; it prints askew: at the bottom end 0.6 mm further right than at the top"));
}

TEST_CASE("what a trial showed, in words") {
  auto const words = [](char const* measured) { return trial_words(parse_trial(measured, "2026-03-01").value(), Unit::millimetre); };
  CHECK(words("reads=wrong,leading=3") == "last tried on 2026-03-01; the press reversed it; the edge with 2 and 3 leads.");
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

TEST_CASE("how far white lies from color proposes the pull-in") {
  auto const trial = parse_trial("white-across=3,white-along=0.2mm", "2026-03-01");  // 0.15 and 0.2 mm: 0.25 mm apart, twice that is 1.417 pt
  REQUIRE(trial);
  CHECK(trial->white_across->in_millimetres() == Approx(0.15));
  REQUIRE(trial->pull_in());
  CHECK(trial->pull_in()->in_points() == Approx(1.45));  // in steps of 0.05 pt
  CHECK_THAT(trial_words(*trial, Unit::millimetre), Catch::Contains("pull-in = \"1.45pt\""));
  CHECK(parse_trial("white-across=0,white-along=0", "2026-03-01")->pull_in()->in_points() == Approx(0.25));
  CHECK_FALSE(parse_trial("reads=right", "2026-03-01")->pull_in());
  CHECK_FALSE(parse_trial("white-across=1in", "2026-03-01"));
  CHECK_FALSE(parse_trial("white-across=-1", "2026-03-01"));
}
