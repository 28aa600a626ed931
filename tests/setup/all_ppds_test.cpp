// Every PPD that Debian packages: a setup for both sheets, or a refusal that quotes the line which forces it.
// Judges: the ranges as read here line by line, and libcups' own marking of the options that came out.
#include <cups/cups.h>
#include <cups/ppd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

#include "setup/ppd.h"

#pragma GCC diagnostic ignored "-Wdeprecated-declarations"

namespace fs = std::filesystem;
using namespace layright;

namespace {

struct Ranges {
  bool custom = false;
  std::map<std::string, std::pair<double, double>> of;
  bool upright(double across, double along) const {
    auto const w = of.find("Width"), h = of.find("Height");
    return custom && w != of.end() && h != of.end() && across >= w->second.first && across <= w->second.second &&
           along >= h->second.first && along <= h->second.second;
  }
};

/// Read without libcups: the lines of PPD specification 4.3, 5.16.
Ranges read_ranges(fs::path const& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream all;
  all << file.rdbuf();
  std::string text = all.str();
  for (char& c : text)
    if (c == '\r') c = '\n';
  Ranges ranges;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("*CustomPageSize True", 0) == 0) ranges.custom = true;
    if (line.rfind("*ParamCustomPageSize ", 0) != 0) continue;
    auto const colon = line.find(':');
    if (colon == std::string::npos) continue;
    std::string name = line.substr(21, colon - 21);
    name = name.substr(0, name.find_first_of(" \t/"));
    std::istringstream values(line.substr(colon + 1));
    std::string order, type;
    double low = 0, high = 0;
    if (values >> order >> type >> low >> high) ranges.of[name] = {low, high};
  }
  return ranges;
}

Target bare(double width_in, double length_in) {
  Target target;
  target.sheet.width = Length::inches(width_in);
  target.sheet.length = Length::inches(length_in);
  return target;
}

Target film(double width_in, double length_in) {
  Target target = bare(width_in, length_in);
  target.press.media_source = "by-pass-tray";
  target.press.media_type = "transparency";
  target.press.output_bin = "face-up";
  target.press.print_quality = "high";
  target.press.print_color_mode = "color";
  target.press.printer_resolution = "finest";
  return target;
}

/// What libcups, told these options afresh, makes of them.
void judge(fs::path const& path, PressSetup const& setup, double across, double along) {
  ppd_file_t* file = ppdOpenFile(path.c_str());
  REQUIRE(file);
  ppdMarkDefaults(file);
  cups_option_t* options = nullptr;
  int count = 0;
  for (auto const& setting : setup.settings) count = cupsAddOption(setting.option.c_str(), setting.choice.c_str(), count, &options);
  cupsMarkOptions(file, count, options);
  INFO(path);
  for (auto const& setting : setup.settings) {
    INFO(setting.option << "=" << setting.choice);
    if (setting.choice.rfind("Custom.", 0) != 0) CHECK(ppdIsMarked(file, setting.option.c_str(), setting.choice.c_str()));
    cups_option_t* others = nullptr;
    int const conflicts = cupsGetConflicts(file, setting.option.c_str(), setting.choice.c_str(), &others);
    CHECK(conflicts == 0);
    cupsFreeOptions(conflicts, others);
  }
  CHECK(std::abs(ppdPageWidth(file, nullptr) - across) <= 1.5);   // the tolerance of a named size
  CHECK(std::abs(ppdPageLength(file, nullptr) - along) <= 1.5);
  cupsFreeOptions(count, options);
  ppdClose(file);
}

struct Count {
  long ppds = 0;
  std::map<std::string, long> of;
};

std::string kind_of(std::string const& message) {
  for (std::string const kind : {"exclude each other", "named sizes only", "more than its maximum", "less than its minimum", "with this tray",
                                 "without a range", "orientation"})
    if (message.find(kind) != std::string::npos) return kind;
  return message;
}

void try_ppd(fs::path const& path, Count& count) {
  ++count.ppds;
  INFO(path);
  auto ppd = Ppd::open(path);
  REQUIRE(ppd);
  auto const ranges = read_ranges(path);
  for (auto const& [width, length] : {std::pair{8.5, 17.0}, std::pair{12.5, 19.0}}) {
    bool const upright = ranges.upright(width * 72, length * 72);
    std::string const sheet = format_number(width, 1) + " in, ";
    count.of[sheet + "take custom sizes"] += ranges.custom;
    count.of[sheet + "upright by its lines"] += upright;
    for (bool with_film : {false, true}) {
      auto const target = with_film ? film(width, length) : bare(width, length);
      std::string const which = with_film ? ", for film" : ", size alone";
      auto const setup = (*ppd)->setup(target, std::nullopt, Unit::inch);
      if (setup) {
        ++count.of[sheet + "setup" + which];
        judge(path, *setup, width * 72, length * 72);
        for (auto const& finding : setup->findings)
          if (with_film) ++count.of["finding " + finding.check + (finding.level == Level::hold ? " (hold)" : "")];
        continue;
      }
      auto const& message = setup.error().message;
      INFO(message);
      CHECK(setup.error().kind == ErrorKind::hold);
      CHECK(message.find("line ") != std::string::npos);
      ++count.of[sheet + "refused" + which + ": " + kind_of(message)];
      if (upright) CHECK((with_film && kind_of(message) == "exclude each other"));
    }
  }
}

}  // namespace

TEST_CASE("every packaged PPD gives a setup or a refusal with its reason") {
  auto const now = std::chrono::system_clock::now().time_since_epoch().count();
  fs::path const folder = fs::temp_directory_path() / ("layright-ppds-" + std::to_string(now));
  fs::create_directories(folder);
  bool const all = std::getenv("LAYRIGHT_ALL") != nullptr;
  char const* given = std::getenv("LAYRIGHT_SEED");
  auto const seed = given ? std::string(given) : std::to_string(now % 1000000);
  std::string const script = std::string("python3 '") + LAYRIGHT_SOURCE + "/tests/setup/unpack_ppds.py' '" + folder.string() + "'" +
                             (all ? "" : " 400 " + seed) + " >/dev/null";
  INFO("install openprinting-ppds and foomatic-db-compressed-ppds; LAYRIGHT_SEED=" << seed);
  REQUIRE(std::system(script.c_str()) == 0);
  Count count;
  for (auto const& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file()) try_ppd(entry.path(), count);
  fs::remove_all(folder);
  std::cout << count.ppds << " PPDs (seed " << (all ? "none, all" : seed) << ")\n";
  for (auto const& [what, n] : count.of) std::cout << "  " << what << ": " << n << "\n";
  CHECK(count.ppds > 0);
  for (std::string const sheet : {"8.5", "12.5"}) CHECK(count.of[sheet + " in, setup, size alone"] >= count.of[sheet + " in, upright by its lines"]);
  if (all) {  // counted line by line over the same packages (20230202-1), without libcups
    CHECK(count.of["8.5 in, setup, size alone"] >= 6848);
    CHECK(count.of["12.5 in, setup, size alone"] >= 4862);
  }
}
