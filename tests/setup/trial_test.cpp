// The trial sheet as poppler and Ghostscript see it, and what is read off it.
#include "setup/trial.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "support/press_target.h"

using namespace layright;
namespace fs = std::filesystem;

namespace {

std::string run(std::string const& command) {
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  REQUIRE(pipe);
  std::string out;
  for (int c; (c = std::fgetc(pipe)) != EOF;) out += static_cast<char>(c);
  pclose(pipe);
  return out;
}

struct Folder {
  fs::path path = fs::temp_directory_path() / ("layright-trial-" + std::to_string(reinterpret_cast<std::uintptr_t>(this)));
  Folder() { fs::create_directories(path); }
  ~Folder() { fs::remove_all(path); }
};

}  // namespace

TEST_CASE("the trial sheet has the sheet's size, says what it must, and keeps its words inside the live area") {
  auto target = film_target(8.5, 17);
  auto const [width, length] = GENERATE(table<double, double>({{8.5, 17}, {12.5, 19}, {4, 6}}));
  target.sheet.width = Length::inches(width);
  target.sheet.length = Length::inches(length);
  target.sheet.feed = GENERATE(Feed::short_edge, Feed::long_edge);
  Folder folder;
  auto const file = (folder.path / "trial.pdf").string();
  std::ofstream(file, std::ios::binary) << trial_sheet(target, GENERATE(Unit::inch, Unit::millimetre));
  auto const page = target.sheet.page();
  CHECK_THAT(run("pdfinfo '" + file + "'"), Catch::Contains("Page size:       " + format_number(page.width(), 2) + " x " + format_number(page.height(), 2) + " pts"));
  CHECK_THAT(run("qpdf --check '" + file + "'"), Catch::Contains("No syntax or stream encoding errors"));
  auto text = run("pdftotext -raw '" + file + "' -");
  std::erase(text, ' ');
  CHECK_THAT(text, Catch::Contains("THISEDGEFIRST") && Catch::Contains("RFG7") && Catch::Contains("acrossthefeed"));
  // The rulers begin at the very edges: Ghostscript sees marks from edge to edge.
  auto const box = run("gs -q -dNOPAUSE -dBATCH -sDEVICE=bbox '" + file + "'");
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  REQUIRE(std::sscanf(box.c_str() + box.find("%%HiRes"), "%%%%HiResBoundingBox: %lf %lf %lf %lf", &x0, &y0, &x1, &y1) == 4);
  CHECK(std::max({std::abs(x0), std::abs(y0), std::abs(x1 - page.width()), std::abs(y1 - page.height())}) < 0.05);
}

TEST_CASE("measured values") {
  auto const trial = parse_trial("reads=wrong,leading=2,shift-x=0.5mm,shift-y=-1mm,along=252.5mm/250mm,across=0.999,left=4mm,top=0.25in", "2026-03-01");
  REQUIRE(trial);
  CHECK(trial->reads == Reading::wrong);
  CHECK(trial->leading == Corner::top_right);
  CHECK(trial->shift_y->in_millimetres() == Approx(-1));
  CHECK(*trial->stretch_along == Approx(1.01));
  CHECK(trial->unprintable->left.in_millimetres() == Approx(4));
  CHECK(trial->unprintable->top.in_inches() == Approx(0.25));
  for (char const* bad : {"", "reads", "reads=mirrored", "leading=5", "shift-x=3", "shift-x=3in", "left=-1mm", "along=2", "along=1mm/0mm", "along=nan", "colour=red",
                          "reads=wrong,,left=1mm"}) {
    auto const refused = parse_trial(bad, "2026-03-01");
    INFO(bad);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().kind == ErrorKind::usage);
  }
}

TEST_CASE("trials are kept press by press, beside the configuration") {
  Folder folder;
  auto const configuration = folder.path / "layright.toml";
  CHECK_FALSE(find_trial(configuration, "bench").value());
  auto const write = [&](std::string const& press, char const* measured, char const* date) {
    auto const text = with_trial(configuration, press, parse_trial(measured, date).value());
    REQUIRE(text);
    std::ofstream(trial_file(configuration), std::ios::binary) << *text;
  };
  write("bench", "reads=right,left=4mm", "2026-03-01");
  write("b\"ench two", "reads=wrong", "2026-03-02");
  write("bench", "along=1.002", "2026-03-03");
  auto const bench = find_trial(configuration, "bench");
  REQUIRE((bench && *bench));
  CHECK((*bench)->date == "2026-03-03");
  CHECK((*bench)->reads == Reading::right);
  CHECK((*bench)->unprintable->left.in_millimetres() == Approx(4));
  CHECK(*(*bench)->stretch_along == Approx(1.002));
  CHECK((*find_trial(configuration, "b\"ench two")).value().reads == Reading::wrong);
  CHECK_THAT(trial_words(**bench, Unit::millimetre), Catch::Contains("2026-03-03") && Catch::Contains("did not reverse") && Catch::Contains("100.2 %"));
  for (char const* spoilt : {"x = 1", "[bench]\nreads = 1", "[bench]\nreads = \"left\"", "[bench", "[bench]\ntried = \"soon\""}) {
    std::ofstream(trial_file(configuration), std::ios::binary) << spoilt;
    auto const refused = find_trial(configuration, "bench");
    INFO(spoilt);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().kind == ErrorKind::data);
  }
}

TEST_CASE("correction undoes shift and stretch") {
  Trial trial;
  Sheet sheet;
  CHECK(correction(trial, sheet) == Matrix<SheetSpace, SheetSpace>{});
  trial.shift_x = Length::points(3);
  trial.shift_y = Length::points(-2);
  trial.stretch_along = 1.01;
  trial.stretch_across = 0.99;
  // What the press does: stretch about the middle, then shift. By hand from the header's words.
  auto const middle = sheet.page().centre();
  auto const press = [&](Point<SheetSpace> p) {
    return Point<SheetSpace>{middle.x + (p.x - middle.x) * 0.99 + 3, middle.y + (p.y - middle.y) * 1.01 - 2};
  };
  for (auto const& p : {Point<SheetSpace>{0, 0}, Point<SheetSpace>{612, 1224}, Point<SheetSpace>{100, 900}}) {
    auto const printed = press(correction(trial, sheet).apply(p));
    CHECK(printed.x == Approx(p.x).margin(1e-9));
    CHECK(printed.y == Approx(p.y).margin(1e-9));
  }
}
