// The trial sheet as poppler and Ghostscript see it.
#include "report/trial_sheet.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <vector>

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
  std::ofstream(file, std::ios::binary) << trial_sheet(target, unit).value();
  auto const page = target.sheet.page();
  CHECK_THAT(shell("pdfinfo '" + file + "'"),
             Catch::Contains("Page size:       " + format_number(page.width(), 2) + " x " + format_number(page.height(), 2) + " pts"));
  CHECK_THAT(shell("qpdf --check '" + file + "'"), Catch::Contains("No syntax or stream encoding errors"));
  auto text = shell("pdftotext -raw '" + file + "' -");
  std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
  CHECK_THAT(text, Catch::Contains("Writereads=right") && Catch::Contains("Writereads=wrong") &&
                       Catch::Contains("printedsideup,theedgewith1and2awayfromyou") && Catch::Contains("leading=___,blank12=___mm") &&
                       Catch::Contains("H=___"));
  // Each blank of the last line is asked for in words, and each nominal length is printed.
  auto const frame = page.width() - 2 * (std::min(page.width(), page.height()) < 432 ? 36 : 72);
  if (unit == Unit::inch)
    CHECK_THAT(text, Catch::Contains("across=___/" + format_number(frame / 72, 3) + "in") && Catch::Contains(format_number(frame / 72, 3) + "in("));
  // The arrows of the gaps begin at the very edges: Ghostscript sees marks from edge to edge.
  auto const box = shell("gs -q -dNOPAUSE -dBATCH -sDEVICE=bbox '" + file + "'");
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  REQUIRE(std::sscanf(box.c_str() + box.find("%%HiRes"), "%%%%HiResBoundingBox: %lf %lf %lf %lf", &x0, &y0, &x1, &y1) == 4);
  CHECK(std::max({std::abs(x0), std::abs(y0), std::abs(x1 - page.width()), std::abs(y1 - page.height())}) < 0.05);
}

namespace {

struct Word {
  double x0, y0, x1, y1;
  std::string text;
};

/// Numbers in the margins, as poppler finds them.
std::vector<Word> numbers_around(std::string const& file, Rect<SheetSpace> const& page, double gap) {
  std::vector<Word> words;
  std::istringstream lines(shell("pdftotext -bbox '" + file + "' -"));
  for (std::string line; std::getline(lines, line);) {
    Word word{};
    char text[8] = "";
    if (std::sscanf(line.c_str(), " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">%7[0-9]</word>", &word.x0, &word.y0, &word.x1, &word.y1,
                    text) != 5)
      continue;
    word.text = text;
    bool const inside = word.x0 > gap && word.x1 < page.width() - gap && word.y0 > gap && word.y1 < page.height() - gap;
    if (!inside && line.find(word.text + "</word>") != std::string::npos) words.push_back(word);
  }
  return words;
}

}  // namespace

TEST_CASE("each number at an edge stands by itself, so that 1 and its mirror writing are not 11") {
  auto target = film_target(8.5, 17);
  auto const [width, length, gap, steps] =
      GENERATE(table<double, double, double, int>({{8.5, 17, 72, 12}, {12.5, 19, 72, 12}, {4, 6, 36, 8}, {6.5, 9, 72, 8}}));
  target.sheet.width = Length::inches(width);
  target.sheet.length = Length::inches(length);
  target.sheet.feed = GENERATE(Feed::short_edge, Feed::long_edge);
  Folder folder;
  auto const file = (folder / "trial.pdf").string();
  std::ofstream(file, std::ios::binary) << trial_sheet(target, Unit::inch).value();
  auto const words = numbers_around(file, target.sheet.page(), gap);
  for (auto const& word : words) CHECK(std::stoi(word.text) <= steps);
  for (int k = 1; k <= steps; ++k) {
    int near = 0, found = 0;
    for (auto const& word : words) {
      if (word.text != std::to_string(k)) continue;
      ++found;
      near += static_cast<int>(std::count_if(words.begin(), words.end(), [&](Word const& other) {
        return &other != &word && other.x0 < word.x1 + 1.5 && other.x1 > word.x0 - 1.5 && other.y0 < word.y1 - 1 && other.y1 > word.y0 + 1;
      }));
    }
    INFO(k);
    CHECK(found >= 4);                                  // once an edge; the mirror writing of one figure is found as well
    if (k > 11 || (k > 2 && k < 10)) CHECK(near == 0);  // 10 to 12 in mirror writing are found as figures 0, 1 and 2 beside each other
  }
}
