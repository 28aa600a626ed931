// Every PPD that Debian packages: a setup for both sheets, or a refusal that quotes the line which forces it.
// Judges: the ranges as read here line by line, libcups' own marking of the options that came out, Ghostscript as the device for each
// custom size's code that differs, CUPS' own filters for one PPD of each kind; cupstestppd for the invented press's PPDs.
#include <cups/cups.h>
#include <cups/ppd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <set>
#include <sstream>

#include "setup/postscript.h"
#include "setup/ppd.h"
#include "setup/press_setup.h"
#include "support/packaged_ppds.h"
#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/program.h"

#pragma GCC diagnostic ignored "-Wdeprecated-declarations"

namespace fs = std::filesystem;
using namespace layright;

namespace {

struct Ranges {
  bool custom = false;
  std::map<std::string, std::pair<double, double>> of;
  std::map<std::string, std::string> orders;
  bool upright(double across, double along) const {
    auto const w = of.find("Width"), h = of.find("Height");
    return custom && w != of.end() && h != of.end() && across >= w->second.first && across <= w->second.second && along >= h->second.first &&
           along <= h->second.second;
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
    if (values >> order >> type >> low >> high) ranges.of[name] = {low, high}, ranges.orders[name] = order;
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
    bool const reported = std::any_of(setup.findings.begin(), setup.findings.end(),
                                      [](auto const& f) { return f.check == "press.conflict" && f.level == Level::hold; });
    CHECK((conflicts == 0 || reported));
    cupsFreeOptions(conflicts, others);
  }
  CHECK(std::abs(ppdPageWidth(file, nullptr) - across) <= 1.5);  // the tolerance of a named size
  CHECK(std::abs(ppdPageLength(file, nullptr) - along) <= 1.5);
  cupsFreeOptions(count, options);
  ppdClose(file);
}

struct Count {
  long ppds = 0;
  std::map<std::string, long> of;
  std::set<std::string> codes;    // custom sizes as they are sent, each once
  std::set<std::string> classes;  // of these, what went through CUPS' filters
};

/// The custom size as the PPD sends it: the numbers in its own order and its code, from the comment that begins the feature to its end.
std::string size_code(PpdCode const& code) {
  std::string const all = code.exit_server + code.prolog + code.document + code.page;
  auto const at = all.find("*CustomPageSize True");
  return at == std::string::npos ? "" : all.substr(at, all.find("%%EndFeature", at) - at);
}

/// What Ghostscript, as the press, makes of the whole fragment: it has a page of the sheet's size, or it stops before anything is printed.
void judge_by_ghostscript(Target const& target, Ppd const& ppd, PressSetup const& setup, Count& count) {
  test::Folder const folder;
  auto const made = postscript_setup(target, "x", ppd, setup);
  test::write_file(folder / "fragment.ps", made.text +
                                               "(\nanswer:) print currentpagedevice /PageSize get initclip clippath pathbbox 4 array astore "
                                               "2 {{round cvi ( ) print =print} forall} repeat (\n) print flush\n");
  auto const ran = test::run({"gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=bbox", "fragment.ps"}, folder.path());
  auto const page = target.sheet.page();
  // A device may tell its sides either way round (PLRM 3, 6.2.1), as long as what is drawn on comes out as the sheet.
  std::string const w = format_number(page.width(), 0), h = format_number(page.height(), 0), drawn_on = "answer: 0 0 " + w + " " + h + " ";
  INFO(ran.out << ran.err);
  bool const has_page =
      ran.out.find(drawn_on + w + " " + h + "\n") != std::string::npos || ran.out.find(drawn_on + h + " " + w + "\n") != std::string::npos;
  bool const answers = ran.out.find("answer:") != std::string::npos;
  bool const stops = !answers && (ran.out.find("did not take the size") != std::string::npos || ran.status != 0);
  CHECK((has_page || stops));
  ++count.of[has_page ? "Ghostscript: page of the sheet's size" : "Ghostscript: stopped before printing"];
}

/// What leaves CUPS' own filters: the mark lies where it lay in the file.
void judge_by_filters(fs::path const& path, Target const& target, PressSetup const& setup, Count& count) {
  test::Folder const folder;
  auto const page = target.sheet.page();
  test::write_file(folder / "page.pdf", test::one_page_pdf("[0 0 " + format_number(page.width(), 2) + " " + format_number(page.height(), 2) + "]",
                                                           "100.5 200.5 299 399 re f"));
  std::vector<std::string> words{"cupsfilter", "-p", path.string(), "-m", "application/vnd.cups-postscript", "-o", "print-scaling=none"};
  for (auto const& setting : setup.settings) words.insert(words.end(), {"-o", setting.option + "=" + setting.choice});
  words.push_back("page.pdf");
  auto const filtered = test::run(words, folder.path());
  auto const postscript = filtered.out.find("%!PS");  // some makers' own job language comes before, which Ghostscript does not speak
  test::write_file(folder / "out.ps", postscript == std::string::npos ? filtered.out : filtered.out.substr(postscript));
  auto const ran = test::run({"gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=bbox", "out.ps"}, folder.path());
  INFO(filtered.err << ran.out << ran.err);
  CHECK_THAT(ran.err, Catch::Contains("%%BoundingBox: 100 200 400 600"));  // Ghostscript rounds outward by up to a point
  ++count.of["through CUPS' filters"];
}

/// Ghostscript once for each code that differs; CUPS' filters for each of these, or for one of each kind only.
void judge_what_is_sent(fs::path const& path, Ranges const& ranges, Target const& target, Ppd const& ppd, PressSetup const& setup, bool all,
                        Count& count) {
  auto const code = size_code(ppd.code());
  if (code.empty() || !count.codes.insert(code).second) return;
  judge_by_ghostscript(target, ppd, setup, count);
  std::string kind = code.find("setpagedevice") == std::string::npos ? "no code" : "code";
  for (auto const& [name, order] : ranges.orders) kind += " " + name + order;
  if (auto const turn = ranges.of.find("Orientation"); turn != ranges.of.end())
    kind += format_number(turn->second.first, 0) + "-" + format_number(turn->second.second, 0);
  // Ghostscript's own PPD turns the page by a procedure that lives on when CUPS' filters ask for the size again, which then cuts the art.
  // No press's PPD does: it is told apart by its code, and left out here.
  bool const turns = code.find(" rotate ") != std::string::npos;
  if (turns) ++count.of["turns the page by itself, so not through CUPS' filters"];
  else if (count.classes.insert(kind).second || all) judge_by_filters(path, target, setup, count);
}

std::string kind_of(std::string const& message) {
  for (std::string const kind : {"exclude each other", "named sizes only", "more than its maximum", "less than its minimum", "with this tray",
                                 "without a range", "orientation"})
    if (message.find(kind) != std::string::npos) return kind;
  return message;
}

void try_ppd(fs::path const& path, bool all, Count& count) {
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
        if (!with_film) judge_what_is_sent(path, ranges, target, **ppd, *setup, all, count);
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

TEST_CASE("every packaged PPD gives a setup or a refusal with its reason", "[packaged]") {
  auto const& ppds = packaged_ppds();
  bool const all = ppds.all;
  INFO("LAYRIGHT_SEED=" << ppds.seed);
  Count count;
  for (auto const& entry : fs::directory_iterator(ppds.drawn())) try_ppd(entry.path(), all, count);
  std::cout << count.ppds << " PPDs (seed " << (all ? "none, all" : ppds.seed) << ")\n";
  for (auto const& [what, n] : count.of) std::cout << "  " << what << ": " << n << "\n";
  CHECK(count.of["turns the page by itself, so not through CUPS' filters"] <= 2);  // both sheets of that one
  std::cout << "  codes of custom sizes that differ, for either sheet: " << count.codes.size() << "\n";
  CHECK(count.ppds > 0);
  for (std::string const sheet : {"8.5", "12.5"}) CHECK(count.of[sheet + " in, setup, size alone"] >= count.of[sheet + " in, upright by its lines"]);
  if (all) {  // counted line by line over the same packages (20230202-1; Ghostscript's own takes both sheets), without libcups
    CHECK(count.of["8.5 in, setup, size alone"] >= 6849);
    CHECK(count.of["12.5 in, setup, size alone"] >= 4863);
  }
}

TEST_CASE("cupstestppd finds nothing wrong with the invented press's PPDs") {
  test::Folder const folder;
  for (auto const& entry : fs::directory_iterator(std::string(layright::test::kTestfiles) + "/press")) {
    if (entry.path().extension() != ".ppd") continue;
    auto const ran = test::run({"cupstestppd", entry.path().string()}, folder.path());
    INFO(ran.out << ran.err);
    CHECK(ran.status == 0);
    CHECK(ran.out.find("FAIL") == std::string::npos);
  }
}
