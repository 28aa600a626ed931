// The PostScript fragment, judged by Ghostscript as the device (currentpagedevice) and, for what Ghostscript does not act out (PageSize
// policies), by the dictionary itself.
#include "setup/postscript.h"

#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "setup/postscript_job.h"
#include "setup/press_setup.h"
#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/press_target.h"
#include "support/program.h"

using namespace layright;
using layright::test::shell;
namespace fs = std::filesystem;

namespace {

/// What Ghostscript prints when it runs the fragment and then `question`.
std::string ghostscript(std::string const& fragment, std::string const& question) {
  auto const path = fs::temp_directory_path() / "layright-fragment.ps";
  std::ofstream(path, std::ios::binary) << fragment << "\n" << question << "\n";
  std::string const out = shell("gs -q -dNOPAUSE -dBATCH -dSAFER -sDEVICE=bbox '" + path.string() + "'");
  fs::remove(path);
  return out;
}

std::string const kPageSize = "currentpagedevice /PageSize get {round cvi ( ) print =print} forall";
std::string asked(std::string const& question) { return "(\\nanswer:) print " + question + " (\\n) print flush"; }

std::string answer(std::string const& out) {
  auto const at = out.find("answer:");
  auto const end = out.find('\n', at);
  return at == std::string::npos ? "no answer: " + out : out.substr(at + 7, end - at - 7);
}

std::string size_of(Target const& target) {
  auto const page = target.sheet.page();
  return " " + format_number(page.width(), 0) + " " + format_number(page.height(), 0);
}

void check_conventions(std::string const& text) {
  CHECK(text.rfind("%!PS-Adobe-3.0\n", 0) == 0);
  CHECK_THAT(text, Catch::Contains("%%DocumentMedia: ") && Catch::Contains("%%EndComments\n") && Catch::Contains("%%BeginSetup\n") &&
                       Catch::EndsWith("%%EndSetup\n"));
  std::size_t begins = 0, ends = 0, start = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text.compare(at, 14, "%%BeginFeature") == 0) ++begins;
    if (text.compare(at, 12, "%%EndFeature") == 0) ++ends;
    if (text[at] == '\n') {
      CHECK(at - start < 255);  // DSC 3.0, 3.3
      start = at + 1;
    }
  }
  CHECK(begins == ends);
}

}  // namespace

TEST_CASE("the fragment for any PostScript printer sets the sheet, the tray and one side") {
  auto target = film_target(8.5, 17);
  auto const [width, length] = GENERATE(table<double, double>({{8.5, 11}, {8.5, 17}, {12.5, 19}}));
  target.sheet.width = Length::inches(width);
  target.sheet.length = Length::inches(length);
  target.sheet.feed = GENERATE(Feed::short_edge, Feed::long_edge);
  target.press.printer_resolution = "600x1200dpi";
  target.press.white_on = {{"WhiteLayer", "Under"}};
  target.press.options = {{"MediaPosition", "3"}};
  auto const made = postscript_setup(target, "lantern (2).pdf");
  check_conventions(made.text);
  CHECK(answer(ghostscript(made.text, asked(kPageSize))) == size_of(target));
  CHECK(answer(ghostscript(made.text, asked("currentpagedevice /HWResolution get {( ) print =print} forall"))) == " 600 1200");
  CHECK(answer(ghostscript(made.text, asked("currentpagedevice /Duplex known {currentpagedevice /Duplex get} {false} ifelse =print"))) == "false");
  CHECK(answer(ghostscript(made.text, asked("currentpagedevice /NumCopies get =print"))) == "1");
  CHECK_THAT(made.text, Catch::Contains("/MediaPosition 3") && Catch::Contains("/WhiteLayer (Under)") && Catch::Contains("/OutputFaceUp true"));
  CHECK(made.text.find("MirrorPrint") == std::string::npos);
  CHECK(page_size_policies(made.text) == std::vector<int>{2});  // asks the operator: PLRM 3, 6.2.7
}

TEST_CASE("a mark drawn after the fragment lies where it was put") {
  auto target = film_target(12.5, 19);
  auto const made = postscript_setup(target, "x");
  // Ghostscript rounds outward by up to a point.
  CHECK_THAT(ghostscript(made.text, "100.5 200.5 299 399 rectfill showpage"), Catch::Contains("%%BoundingBox: 100 200 400 600"));
}

TEST_CASE("tray by hand, and MirrorPrint only where the printer reverses") {
  auto target = film_target(8.5, 17);
  target.press.printer_resolution = "1200dpi";
  CHECK_THAT(postscript_setup(target, "x").text, Catch::Contains("/ManualFeed true /TraySwitch false"));
  target.reverse_at = ReverseAt::printer;
  auto const made = postscript_setup(target, "x");
  CHECK_THAT(made.text, Catch::Contains("/MirrorPrint true"));
  CHECK(made.findings.size() == 1);
  CHECK(answer(ghostscript(made.text, asked(kPageSize))) == size_of(target));
}

TEST_CASE("the PPD's own code stands in the fragment and gives the same sheet") {
  auto const name = GENERATE("bench", "bench-height-first", "bench-width-last", "bench-scales", "bench-long-edge", "bench-named");
  auto const target = film_target(8.5, 17);
  INFO(name);
  auto ppd = Ppd::open(std::string(layright::test::kTestfiles) + "/press/" + name + ".ppd");
  REQUIRE(ppd);
  auto const setup = (*ppd)->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  auto const made = postscript_setup(target, "lantern.pdf", **ppd, *setup);
  check_conventions(made.text);
  CHECK(answer(ghostscript(made.text, asked(kPageSize))) == size_of(target));
  CHECK_THAT(made.text, Catch::Contains("*MediaType Transparency") && Catch::Contains("/MediaPosition 3"));
  auto const policies = page_size_policies(made.text);
  if (!policies.empty()) CHECK(policies.back() == 2);
  if (std::string(name) == "bench-scales") CHECK_THAT(made.findings.at(0).message, Catch::Contains("policy 3"));
}

TEST_CASE("a device that keeps another size stops the job before anything is printed") {
  auto const made = postscript_setup(film_target(8.5, 17), "x");
  // Ghostscript with a fixed medium stands for a press that ignores the size.
  auto const path = fs::temp_directory_path() / "layright-fixed.ps";
  std::ofstream(path, std::ios::binary) << made.text << "\n(printed) print showpage\n";
  auto const out = shell("gs -q -dNOPAUSE -dBATCH -dSAFER -sPAPERSIZE=a4 -dFIXEDMEDIA -sDEVICE=bbox '" + path.string() + "'");
  fs::remove(path);
  CHECK_THAT(out, Catch::Contains("did not take the size"));
  CHECK(out.find("printed)") == std::string::npos);
  CHECK(out.find("BoundingBox") == std::string::npos);
}

namespace {

/// A press, as PostScript that stands before the job and words for Ghostscript: how it takes the sheet.
struct Device {
  char const* what;
  std::string prologue;
  char const* words;
  bool prints;
  bool thorough = false;  // one of each kind: each judge is asked, and each setup
};

// What a press's setpagedevice does before the interpreter's own.
std::string device(std::string const& does) {
  return "%!\n/setpagedevice { " + does + " systemdict /setpagedevice get exec } userdict begin def end\n";
}
/// It answers any size but this one, either way round, with an error (PLRM 3, 6.2.7, policy 0).
std::string knows_only(std::string const& width, std::string const& height, std::string const& error = "configurationerror") {
  return device("dup /PageSize known { dup /PageSize get aload pop 2 copy gt { exch } if " + height + " ne exch " + width +
                " ne or { /setpagedevice cvx /" + error + " signalerror } if } if");
}
/// It takes this size for any other.
std::string puts(std::string const& size) { return device("dup /PageSize known { dup length dict copy dup /PageSize [" + size + "] put } if"); }

std::string const kErrorPage = "errordict /handleerror { 50 50 500 500 rectfill showpage } put\n";  // of a press that prints what went wrong

/// For a sheet of 612 x 1224 pt. What a device may be off is 5 units (PLRM 3, 6.2.1).
std::vector<Device> devices() {
  return {
      {"knows letter only", knows_only("612", "792"), "", false},
      {"knows letter only, and says limitcheck", knows_only("612", "792", "limitcheck"), "", false},
      {"knows letter only, and says rangecheck", knows_only("612", "792", "rangecheck"), "", false},
      {"knows letter only, and prints its errors", knows_only("612", "792") + kErrorPage, "", false, true},
      {"knows the sheet", knows_only("612", "1224"), "", true},
      {"takes every size", "", "", true},
      {"takes every size, and would print its errors", "%!\n" + kErrorPage, "", true, true},
      {"takes every size for letter", puts("612 792"), "", false},
      {"takes every size for letter, and prints its errors", puts("612 792") + kErrorPage, "", false, true},
      {"passes the size over", device("dup /PageSize known { dup length dict copy dup /PageSize undef } if"), "-sPAPERSIZE=letter", false, true},
      {"holds letter", "", "-sPAPERSIZE=letter -dFIXEDMEDIA", false, true},
      {"holds the other film", "", "-dDEVICEWIDTHPOINTS=900 -dDEVICEHEIGHTPOINTS=1368 -dFIXEDMEDIA", false},
      {"would scale to letter", "%!\n<< /Policies << /PageSize 3 >> >> setpagedevice\n", "-sPAPERSIZE=letter -dFIXEDMEDIA", false, true},
      {"would take the nearest without scaling", "%!\n<< /Policies << /PageSize 5 >> >> setpagedevice\n", "-sPAPERSIZE=letter -dFIXEDMEDIA", false},
      {"is 5 units wider and longer", puts("617 1229"), "", true, true},
      {"is 5 units narrower and shorter", puts("607 1219"), "", true},
      {"is 6 units wider", puts("618 1224"), "", false},
      {"is 6 units narrower", puts("606 1224"), "", false},
      {"is 6 units longer", puts("612 1230"), "", false, true},
      {"is 6 units shorter", puts("612 1218"), "", false},
      {"tells its sides the other way round", puts("1224 612"), "", true, true},
      {"tells its sides the other way round, 6 units off", puts("1224 606"), "", false},
      {"does not know the type of the medium", device("dup /MediaType known { /setpagedevice cvx /configurationerror signalerror } if"), "", false,
       true},
      {"does not tell what it took", "%!\n/currentpagedevice { << >> } userdict begin def end\n" + kErrorPage, "", false, true}};
}

}  // namespace

TEST_CASE("a press that does not take the size prints nothing: no page, no page of errors") {
  test::Folder const folder;
  // The page as Ghostscript writes it, with the handler of its prolog that prints errors.
  test::write_file(folder / "page.ps", "%!PS\n<</PageSize[612 1224]>>setpagedevice 100 100 50 50 rectfill showpage\n");
  auto const page = test::run({"gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=ps2write", "-sOutputFile=-", "page.ps"}, folder.path()).out;
  REQUIRE(page.find("errordict/handleerror") != std::string::npos);
  auto upright = film_target(8.5, 17), across = film_target(8.5, 17);
  across.sheet.feed = Feed::long_edge;
  auto const ppd = Ppd::open(std::string(layright::test::kTestfiles) + "/press/bench.ppd");
  REQUIRE(ppd);
  auto const with_ppd = (*ppd)->setup(upright, std::nullopt, Unit::inch);
  REQUIRE(with_ppd);
  std::pair<char const*, PostscriptSetup> const setups[] = {{"without PPD", postscript_setup(upright, "x")},
                                                            {"by PPD", postscript_setup(upright, "x", **ppd, *with_ppd)},
                                                            {"across", postscript_setup(across, "x")}};
  struct Job {
    std::string name, what;
    bool prints, by_all;  // by_all: each judge is asked
  };
  std::vector<Job> jobs;
  std::string list;
  for (auto const& [kind, setup] : setups) {
    auto const job = postscript_job(page, setup);
    REQUIRE(job);
    std::string whole;
    for (auto const piece : job->pieces) whole += piece;
    for (auto const& device : devices()) {
      // A PPD's code runs where errors are silent (PPD specification 4.3, 5.1), so the type of the medium is the PPD's affair.
      if (std::string(kind) == "by PPD" && std::string(device.what).find("type of the medium") != std::string::npos) continue;
      auto const name = "job" + std::to_string(jobs.size());
      test::write_file(folder / (name + ".ps"), device.prologue + whole);
      bool const by_all = device.thorough && std::string(kind) == "without PPD";
      if (!device.thorough && std::string(kind) != "without PPD") continue;
      jobs.push_back({name, std::string(kind) + ": " + device.what, device.prints, by_all});
      list += name + (by_all ? " true" : " false") + (*device.words ? " " : "") + device.words + "\n";
    }
  }
  test::write_file(folder / "list", list);
  // The judges: boxes, pictures, and PostScript again (which begins with an empty page of its own).
  shell("cd '" + folder.path().string() +
        "' && xargs -P 2 -L 1 sh -c 'n=$0; by_all=$1; shift; g=\"gs -q -dSAFER -dBATCH -dNOPAUSE $*\"; $g -sDEVICE=bbox $n.ps >$n.box 2>&1; "
        "$by_all && { $g -sDEVICE=pgmraw -r10 -sOutputFile=$n-%d.pgm $n.ps; $g -sDEVICE=ps2write -sOutputFile=$n.out $n.ps; } >$n.said 2>&1; true' "
        "<list");
  for (auto const& job : jobs) {
    INFO(job.what);
    auto const box = test::read_file(folder / (job.name + ".box"));
    INFO(box);
    CHECK((box.find("%%BoundingBox: ") != std::string::npos) == job.prints);
    if (!job.prints) CHECK_THAT(box, Catch::Contains("did not take the size") || Catch::Contains("Error: "));
    if (!job.by_all) continue;
    CHECK(fs::exists(folder / (job.name + "-1.pgm")) == job.prints);
    CHECK_FALSE(fs::exists(folder / (job.name + "-2.pgm")));
    auto const again = test::read_file(folder / (job.name + ".out"));
    auto const drawn = again.substr(std::min(again.find("%%EndProlog"), again.size()));
    CHECK((drawn.find(" re\nf") != std::string::npos || drawn.find(" re f") != std::string::npos) == job.prints);
    CHECK(drawn.find("%%Page: 2") == std::string::npos);
  }
}

TEST_CASE("job language goes in its envelope as libcups writes it, and nowhere else") {
  auto const target = film_target(8.5, 17);
  auto const made_with = [&](char const* name) {
    auto const ppd = Ppd::open(std::string(layright::test::kTestfiles) + "/press/" + name + ".ppd");
    REQUIRE(ppd);
    auto const setup = (*ppd)->setup(target, std::nullopt, Unit::inch);
    REQUIRE(setup);
    return postscript_setup(target, "folder/lan\"tern.pdf", **ppd, *setup);
  };
  auto const with = made_with("bench-envelope");
  CHECK_THAT(with.job_language, Catch::StartsWith("\x1b%-12345X@PJL") && Catch::Contains("@PJL SET HOLD=OFF\n") &&
                                    Catch::EndsWith("@PJL ENTER LANGUAGE = POSTSCRIPT\n"));
  CHECK_THAT(with.job_language, Catch::Contains("NAME = \"lan'tern.pdf\""));
  CHECK_THAT(with.job_language_end, Catch::Contains("@PJL EOJ\n\x1b%-12345X"));
  CHECK(with.text.find("@PJL") == std::string::npos);
  auto const without = made_with("bench-no-envelope");
  CHECK(without.job_language.empty());
  CHECK(without.job_language_end.empty());
  REQUIRE(without.findings.size() == 1);
  CHECK_THAT(without.findings[0].message, Catch::Contains("JCLHold=False") && Catch::Contains("JCLBegin"));
}

TEST_CASE("strings and policies of PostScript") {
  CHECK(postscript_string("a(b)\\c") == "(a\\(b\\)\\\\c)");
  CHECK(postscript_string("\xc3\xa9\n") == "(\\303\\251\\012)");
  CHECK(page_size_policies("<</Policies<</PageSize 3>>>> << /Policies << /MediaType 1 >> >> /Policies <</PolicyNotFound 1 /PageSize  7 >>") ==
        std::vector<int>{3, 7});
  // A hostile title or option cannot leave its string.
  auto target = film_target(8.5, 17);
  target.press.options = {{"Odd", ") quit ("}, {"bad key", "1"}, {"Name", "/Plain"}};
  auto const made = postscript_setup(target, std::string("x)\n%%EOF\nquit (") + std::string(400, '\xff'));
  check_conventions(made.text);
  CHECK(answer(ghostscript(made.text, asked(kPageSize))) == size_of(target));
  CHECK(made.text.find("bad key") == std::string::npos);
}
