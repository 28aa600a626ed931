// What the program makes of 240 packaged PPDs against what a person wrote down after reading them (read_by_hand.txt).
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

#include "setup/ppd.h"
#include "support/packaged_ppds.h"
#include "support/places.h"
#include "support/press_target.h"

using namespace layright;

namespace {

/// option -> the choices that are right.
using Row = std::map<std::string, std::string>;

std::map<std::string, Row> rows() {
  std::ifstream file(std::string(layright::test::kSource) + "/tests/setup/read_by_hand.txt");
  std::map<std::string, Row> all;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream words(line);
    std::string digest, word;
    words >> digest;
    digest.resize(digest.find('@'));
    Row& row = all[digest];
    while (words >> word) row[word.substr(0, word.find('='))] = word.substr(word.find('=') + 1);
  }
  return all;
}

Target film_by_hand() {
  auto target = film_target(8.5, 17);
  target.white = {};
  target.press.white_off.clear();
  target.press.print_unknown_size = target.press.never_other_tray = false;
  target.press.no_size_check.clear();
  target.press.no_tray_switch.clear();
  return target;
}

bool is_judged(Topic topic) { return topic != Topic::size && topic != Topic::way_round; }

}  // namespace

TEST_CASE("choices of packaged PPDs as a person reads them: none wrong, at most 3 % not found") {
  auto const expected = rows();
  REQUIRE(expected.size() == 240);
  int right = 0, wrong = 0, not_found = 0, not_there = 0;
  std::string reported;
  for (auto const& [digest, row] : expected) {
    auto const ppd = Ppd::open(packaged_ppds().by_hand() / digest);
    if (!ppd) {  // another version of the package
      ++not_there;
      continue;
    }
    auto const setup = (*ppd)->setup(film_by_hand(), std::nullopt, Unit::inch);
    if (row.contains("refused")) {
      bool const both = !setup && setup.error().message.find("exclude each other") != std::string::npos &&
                        std::all_of(row.begin(), row.end(), [&](auto const& pair) {
                          return pair.first == "refused" || setup.error().message.find(pair.first + "=" + pair.second) != std::string::npos;
                        });
      ++(both ? right : wrong);
      if (!both) reported += digest + " WRONG: not refused\n";
      continue;
    }
    Row got;
    if (setup)
      for (auto const& setting : setup->settings)
        if (is_judged(setting.topic)) got[setting.option] = setting.choice;
    if (!setup) reported += digest + " refused: " + setup.error().message + "\n";
    for (auto const& [option, choices] : row) {
      auto const found = got.find(option);
      if (found == got.end()) {
        ++not_found;
        reported += digest + " not found: " + option + "=" + choices + "\n";
      } else if (("|" + choices + "|").find("|" + found->second + "|") == std::string::npos) {
        ++wrong;
        reported += digest + " WRONG: " + option + "=" + found->second + ", and not " + choices + "\n";
      } else {
        ++right;
      }
    }
    for (auto const& [option, choice] : got)
      if (!row.contains(option)) ++wrong, reported += digest + " WRONG: " + option + "=" + choice + ", which nobody asked for\n";
  }
  std::cout << "PPDs read by hand: " << right << " choices right, " << wrong << " wrong, " << not_found << " not found; " << not_there
            << " PPDs not in the packages\n";
  INFO(reported);
  CHECK(not_there == 0);
  CHECK(wrong == 0);
  CHECK(100 * not_found <= 3 * (right + not_found));
}
