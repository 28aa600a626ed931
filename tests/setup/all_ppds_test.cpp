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

Target film(double width_in, double length_in) {
  Target target;
  target.sheet.width = Length::inches(width_in);
  target.sheet.length = Length::inches(length_in);
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

}  // namespace

TEST_CASE("every packaged PPD gives a setup or a refusal with its reason") {
  fs::path const folder = fs::temp_directory_path() / ("layright-ppds-" + std::to_string(std::chrono::steady_clock::now().time_since_epoch().count()));
  fs::create_directories(folder);
  bool const all = std::getenv("LAYRIGHT_ALL") != nullptr;
  char const* given = std::getenv("LAYRIGHT_SEED");
  auto const seed = given ? std::string(given) : std::to_string(std::chrono::system_clock::now().time_since_epoch().count() % 1000000);
  std::string const script = std::string("python3 '") + LAYRIGHT_SOURCE + "/tests/setup/unpack_ppds.py' '" + folder.string() + "'" +
                             (all ? "" : " 400 " + seed) + " >/dev/null";
  INFO("install openprinting-ppds and foomatic-db-compressed-ppds; LAYRIGHT_SEED=" << seed);
  REQUIRE(std::system(script.c_str()) == 0);
  long ppds = 0;
  std::map<std::string, long> refusals, findings;
  std::map<double, std::array<long, 3>> counts;  // by width: custom PPDs, upright as read here, with a setup
  for (auto const& entry : fs::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    ++ppds;
    auto ppd = Ppd::open(entry.path());
    INFO(entry.path());
    REQUIRE(ppd);
    auto const ranges = read_ranges(entry.path());
    for (auto const& target : {film(8.5, 17), film(12.5, 19)}) {
      auto const page = target.sheet.page();
      bool const upright = ranges.upright(page.width(), page.height());
      auto const setup = (*ppd)->setup(target, std::nullopt, Unit::inch);
      auto& count = counts[target.sheet.width.in_inches()];
      count[0] += ranges.custom;
      count[1] += upright;
      count[2] += setup.has_value();
      if (setup) {
        judge(entry.path(), *setup, page.width(), page.height());
        for (auto const& finding : setup->findings) ++findings[finding.check + (finding.level == Level::hold ? " (hold)" : "")];
      } else {
        CHECK(setup.error().kind == ErrorKind::hold);
        CHECK(setup.error().message.find("line ") != std::string::npos);
        auto const& message = setup.error().message;
        bool const conflict = message.find("exclude each other") != std::string::npos;
        std::string const kind = conflict ? "two choices exclude each other" : message.find("named sizes only") != std::string::npos ? "named sizes only"
                                 : message.find("maximum") != std::string::npos ? "over the maximum" : message.find("minimum") != std::string::npos ? "under the minimum" : message;
        ++refusals[format_number(target.sheet.width.in_inches(), 1) + " in: " + kind];
        if (upright) {
          INFO(message);
          CHECK(conflict);
        }
      }
    }
  }
  fs::remove_all(folder);
  std::cout << ppds << " PPDs (seed " << (all ? "none, all" : seed) << ")\n";
  for (auto const& [width, count] : counts)
    std::cout << format_number(width, 1) << " in: " << count[0] << " take custom sizes, " << count[1] << " this one upright, " << count[2] << " got a setup\n";
  for (auto const& [kind, count] : refusals) std::cout << "  refused, " << kind << ": " << count << "\n";
  for (auto const& [kind, count] : findings) std::cout << "  finding " << kind << ": " << count << "\n";
  CHECK(ppds > 0);
  for (auto const& [width, count] : counts) CHECK(count[2] >= count[1]);
  if (all) {  // counted independently over the same packages (20230202-1)
    CHECK(counts[8.5][2] >= 6848);
    CHECK(counts[12.5][2] >= 4862);
  }
}
