// The trial sheet as poppler and Ghostscript see it.
#include "setup/trial_sheet.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "support/press_target.h"
#include "support/program.h"

using namespace layright;
using layright::test::Folder;
using layright::test::shell;
namespace fs = std::filesystem;

TEST_CASE("the trial sheet has the sheet's size, says what it must, and keeps its words inside the live area") {
  auto target = film_target(8.5, 17);
  auto const [width, length] = GENERATE(table<double, double>({{8.5, 17}, {12.5, 19}, {4, 6}}));
  target.sheet.width = Length::inches(width);
  target.sheet.length = Length::inches(length);
  target.sheet.feed = GENERATE(Feed::short_edge, Feed::long_edge);
  auto const unit = GENERATE(Unit::inch, Unit::millimetre);
  Folder folder;
  auto const file = (folder / "trial.pdf").string();
  std::ofstream(file, std::ios::binary) << trial_sheet(target, unit);
  auto const page = target.sheet.page();
  CHECK_THAT(shell("pdfinfo '" + file + "'"), Catch::Contains("Page size:       " + format_number(page.width(), 2) + " x " + format_number(page.height(), 2) + " pts"));
  CHECK_THAT(shell("qpdf --check '" + file + "'"), Catch::Contains("No syntax or stream encoding errors"));
  auto text = shell("pdftotext -raw '" + file + "' -");
  std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
  CHECK_THAT(text, Catch::Contains("Writereads=right") && Catch::Contains("Writereads=wrong") && Catch::Contains("printedsideup,theedgewith1and2awayfromyou") &&
                       Catch::Contains("leading=___,blank12=___mm") && Catch::Contains("H=___"));
  // Each blank of the last line is asked for in words, and each nominal length is printed.
  auto const frame = page.width() - 2 * (std::min(page.width(), page.height()) < 432 ? 36 : 72);
  if (unit == Unit::inch) CHECK_THAT(text, Catch::Contains("across=___/" + format_number(frame / 72, 3) + "in") && Catch::Contains(format_number(frame / 72, 3) + "in("));
  // The arrows of the gaps begin at the very edges: Ghostscript sees marks from edge to edge.
  auto const box = shell("gs -q -dNOPAUSE -dBATCH -sDEVICE=bbox '" + file + "'");
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  REQUIRE(std::sscanf(box.c_str() + box.find("%%HiRes"), "%%%%HiResBoundingBox: %lf %lf %lf %lf", &x0, &y0, &x1, &y1) == 4);
  CHECK(std::max({std::abs(x0), std::abs(y0), std::abs(x1 - page.width()), std::abs(y1 - page.height())}) < 0.05);
}
