#include "sheet/configuration.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>

using namespace layright;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
namespace fs = std::filesystem;

namespace {

constexpr char const* kPath = "/shop/layright.toml";

Configuration parsed(std::string const& text) {
  auto configuration = parse_configuration(text, kPath);
  if (!configuration) FAIL(configuration.error().message);
  return *configuration;
}

Target target_with(std::string const& lines) { return parsed("[target.t]\nsheet = \"narrow-film\"\n" + lines).targets.at("t"); }
Press press_with(std::string const& lines) { return parsed("[press.p]\n" + lines).presses.at("p"); }

/// A folder of its own, gone at the end.
struct ConfigurationFolder {
  fs::path path = fs::temp_directory_path() / ("layright-sheet-" + std::to_string(::getpid()));
  ConfigurationFolder() { fs::create_directories(path); }
  ~ConfigurationFolder() { fs::remove_all(path); }
  fs::path write(fs::path const& name, std::string const& text) const {
    fs::create_directories((path / name).parent_path());
    std::ofstream(path / name, std::ios::binary) << text;
    return path / name;
  }
};

constexpr char const* kIntake =
    "[target.a]\nsheet = \"narrow-film\"\n[intake.i]\ntarget = \"a\"\nin = \"in\"\nready = \"ready\"\nheld = \"held\"\n"
    "originals = \"originals\"\nledger = \"intake.db\"\n";

}  // namespace

// DESIGN section 7's own example, every line of it.
TEST_CASE("the documented configuration is read as it says") {
  auto const c = parsed(R"(unit = "in"
[sheet.narrow-film]
size = "8.5x17in"
feed = "short-edge"
margin = "0.25in"
[press.bench]
ppd = "bench.ppd"
media-source = "by-pass-tray"
media-type = "transparency"
output-bin = "face-up"
prints-white = true
white-limit = "120%"
options = { SizeStop = "Off" }
[target.dark-shirt]
sheet = "narrow-film"
press = "bench"
reading = "wrong"
reverse-at = "file"
scale = "fit"
white = "110%"
unknown-reads = "hold"
[intake.front-desk]
target = "dark-shirt"
in = "in"
ready = "ready"
held = "held"
originals = "originals"
ledger = "intake.db"
)");
  auto const& target = c.targets.at("dark-shirt");
  CHECK(target.name == "dark-shirt");
  CHECK(target.sheet.name == "narrow-film");
  CHECK(target.sheet.margins == Margins::all(Length::inches(0.25)));
  CHECK(target.press.name == "bench");
  CHECK(target.press.ppd == "/shop/bench.ppd");
  CHECK(target.press.media_source == "by-pass-tray");
  CHECK(target.press.media_type == "transparency");
  CHECK(target.press.output_bin == "face-up");
  CHECK(target.white_prints());
  CHECK(target.press.options == PressOptions{{"SizeStop", "Off"}});
  CHECK(target.reading == WantedReading::wrong);
  CHECK(target.placement.scale == PlacementOptions::Scale::fit);
  CHECK(target.white.percent == 110.0);
  auto const& intake = c.intakes.at("front-desk");
  CHECK(intake.target == "dark-shirt");
  CHECK(intake.in == "/shop/in");
  CHECK(intake.ledger == "/shop/intake.db");
}

TEST_CASE("the starting configuration is valid, and so is each line that its notes offer") {
  auto const text = starting_configuration();
  auto const c = parsed(text);
  CHECK(c.targets.contains("film"));
  CHECK(c.targets.at("film").reading == WantedReading::wrong);
  CHECK(c.presses.contains("bench"));
  CHECK(c.sheets.at("wide-film").width == Length::inches(12.5));
  // Each "# key = …" line alone, taken up in its place.
  int taken_up = 0;
  for (std::size_t at = text.find("\n# "); at != std::string::npos; at = text.find("\n# ", at + 1)) {
    auto const line = text.substr(at + 1, text.find('\n', at + 1) - at - 1);
    auto const word = line.substr(2, line.find(' ', 2) - 2);
    bool const offers = line.find(word + " = ") == 2 && at < text.find("# ---- Intakes");
    if (!offers || word == "width" || word == "height") continue;  // these stand instead of scale
    CAPTURE(line);
    auto taken = text;
    taken.erase(at + 1, 2);
    CHECK(parse_configuration(taken, kPath));
    ++taken_up;
  }
  CHECK(taken_up == 102);
  // The intake's lines, all together.
  auto intake = text.substr(text.find("# [intake.front-desk]"));
  for (std::size_t at = 0; at != std::string::npos; at = intake.find('\n', at)) {
    if (at > 0) ++at;
    if (intake.substr(at, 1) == "#") intake.erase(at, intake.substr(at, 2) == "# " ? 2 : 1);
    if (at >= intake.size()) break;
  }
  auto const with_intake = parsed(text.substr(0, text.find("# [intake.front-desk]")) + intake);
  CHECK(with_intake.intakes.at("front-desk").settings.at("partial") == "*.part\n*.tmp");
  CHECK(with_intake.intakes.at("front-desk").rules.size() == 1);
}

TEST_CASE("nothing said is the two sheets and no more") {
  auto const text = GENERATE(as<std::string>{}, "", "\n", "# a note", "\xEF\xBB\xBF", "\r\n");
  auto const c = parsed(text);
  CHECK(c.sheets.size() == 2);
  CHECK(c.sheets.at("narrow-film").length == Length::inches(17));
  CHECK(c.presses.empty());
  CHECK(c.targets.empty());
  CHECK(c.intakes.empty());
  CHECK(c.unit == Unit::inch);
}

TEST_CASE("marks of byte order and line ends of other systems are taken") {
  auto const c = parsed("\xEF\xBB\xBFunit = \"mm\"\r\n[sheet.a]\r\nsize = \"A4\"\r\n");
  CHECK(c.unit == Unit::millimetre);
  CHECK(c.sheets.at("a").width == Length::millimetres(210));
}

TEST_CASE("margins are one length, a table, or a list") {
  auto const [text, left, bottom, right, top] = GENERATE(table<std::string, double, double, double, double>({
      {"\"10pt\"", 10, 10, 10, 10},
      {"{ left = \"1pt\", bottom = \"2pt\", right = \"3pt\", top = \"4pt\" }", 1, 2, 3, 4},
      {"{ top = \"4pt\" }", 18, 18, 18, 4},
      {"[\"1pt\", \"2pt\", \"3pt\", \"4pt\"]", 1, 2, 3, 4},
      {"\"0in\"", 0, 0, 0, 0},
  }));
  Margins const wanted{Length::points(left), Length::points(bottom), Length::points(right), Length::points(top)};
  CHECK(parsed("[sheet.a]\nsize = \"A4\"\nmargin = " + text).sheets.at("a").margins == wanted);
  CHECK(target_with("margin = " + text).sheet.margins == wanted);
}

TEST_CASE("a known sheet may be changed in part") {
  auto const c = parsed("[sheet.narrow-film]\nfeed = \"long-edge\"");
  CHECK(c.sheets.at("narrow-film").width == Length::inches(8.5));
  CHECK(c.sheets.at("narrow-film").feed == Feed::long_edge);
}

TEST_CASE("each key of a press is read") {
  CHECK(press_with("ppd = \"/abs/b.ppd\"").ppd == "/abs/b.ppd");
  CHECK(press_with("ppd = \"sub/../b.ppd\"").ppd == "/shop/b.ppd");
  CHECK(press_with("ipp = \"ipps://localhost:8631/ipp/print\"").ipp == "ipps://localhost:8631/ipp/print");
  CHECK(press_with("queue = \"film_12x19/night\"").queue == "film_12x19/night");
  CHECK(press_with("user = \"anna\"\npassword-file = \"/etc/press.password\"").password_file == "/etc/press.password");
  CHECK(press_with("print-quality = \"high\"").print_quality == "high");
  CHECK(press_with("printer-resolution = \"600x1200dpi\"").printer_resolution == "600x1200dpi");
  CHECK(press_with("print-color-mode = \"color\"").print_color_mode == "color");
  CHECK(press_with("film-side-up = \"coated side up\"").film_side_up == "coated side up");
  CHECK(press_with("white-on = { W = \"1\" }").white_on == PressOptions{{"W", "1"}});
  CHECK(press_with("white-off = { W = 0 }").white_off == PressOptions{{"W", "0"}});
  CHECK(press_with("mirror-on = { M = \"T\" }").mirror_on == PressOptions{{"M", "T"}});
  CHECK(press_with("mirror-off = { M = \"F\" }").mirror_off == PressOptions{{"M", "F"}});
  CHECK(press_with("no-size-check = { S = \"Off\" }").no_size_check == PressOptions{{"S", "Off"}});
  CHECK(press_with("[press.p.no-tray-switch]\nT = \"Off\"").no_tray_switch == PressOptions{{"T", "Off"}});
  CHECK(press_with("unknown-size = \"print\"").print_unknown_size);
  CHECK(press_with("other-tray = \"never\"").never_other_tray);
  CHECK(press_with("unknown-size.print = { S = \"Off\" }").no_size_check == PressOptions{{"S", "Off"}});
  CHECK(press_with("other-tray = { never = { T = \"Off\" } }").no_tray_switch == PressOptions{{"T", "Off"}});
  CHECK(press_with("other-tray.never = { T = \"Off\" }").never_other_tray);
  CHECK(press_with("no-size-check = { S = \"Off\" }").print_unknown_size);
  CHECK_FALSE(press_with("print-quality = \"high\"").print_unknown_size);
  CHECK(press_with("white-limit = \"150%\"").white_limit_pct == 150);
  CHECK(press_with("print-quality = \"high\"").white_limit_pct == 100);
}

TEST_CASE("each key of a target is read") {
  CHECK(target_with("reverse-at = \"rip\"").reverse_at == ReverseAt::rip);
  CHECK(target_with("scale = \"80%\"").placement.percent == 80);
  CHECK(target_with("width = \"10in\"").placement.width == Length::inches(10));
  CHECK(target_with("height = \"5in\"").placement.height == Length::inches(5));
  CHECK(target_with("turn = \"auto\"").placement.turn == std::nullopt);
  CHECK(target_with("turn = \"270\"").placement.turn == Turn::three_quarters);
  CHECK(target_with("turn = 90").placement.turn == Turn::quarter);
  CHECK(target_with("by = \"trim\"").placement.by == PlaceBy::trim);
  CHECK(target_with("at = \"top-left\"").placement.at == Anchor::top_left);
  CHECK(target_with("offset = \"0.5in, -18pt\"").placement.offset_x == Length::points(36));
  CHECK(target_with("offset = \"0.5in, -18pt\"").placement.offset_y == Length::points(-18));
  CHECK(target_with("white = \"on\"").white.on);
  CHECK(target_with("goods = \"dark\"").dark_goods);
  CHECK_FALSE(target_with("goods = \"light\"").dark_goods);
  CHECK(target_with("unknown-reads = \"wrong\"").unknown_reads == UnknownReads::wrong);
  CHECK(taken_for_granted(target_with("unknown-reads = \"wrong\""), false) == UnknownReads::wrong);  // one word for both, as before there were two
  Target const apart = target_with("unknown-reads = \"hold\"\nwithout-letters = \"right\"");
  CHECK(taken_for_granted(apart, true) == UnknownReads::hold);
  CHECK(taken_for_granted(apart, false) == UnknownReads::right);
  CHECK(target_with("render = \"pictures\"").render == Render::pictures);
  CHECK(target_with("copies = 3").copies == 3);
  CHECK(target_with("allow-outside = true").placement.allow_outside);
  CHECK(target_with("letters = \"eng+fra\"").letters == std::vector<std::string>{"eng", "fra"});
  CHECK(target_with("letters = [\"chi_sim\", \"script/Latin\"]").letters == std::vector<std::string>{"chi_sim", "script/Latin"});
  CHECK(parsed("[target.t]\nsheet = \"A4\"").targets.at("t").sheet.width == Length::millimetres(210));
}

TEST_CASE("who watches, and behind what") {
  CHECK(parsed("version = 1").user.empty());
  CHECK(parsed("user = \"layright\"").user == "layright");
  CHECK_FALSE(parsed("sandbox = \"whole\"").partial_sandbox);
  CHECK(parsed("sandbox = \"as far as the kernel goes\"").partial_sandbox);
  auto const odd = parse_configuration("sandbox = \"off\"", "/there/layright.toml");
  REQUIRE_FALSE(odd);
  CHECK(odd.error().message.find("as far as the kernel goes") != std::string::npos);
}

TEST_CASE("limits and letters hold for all targets but those that say otherwise") {
  auto const c = parsed(R"([limits]
size-tolerance = "1pt"
margin-tolerance = "0.02pt"
cut = "2pt"
guide-stroke = "4pt"
guide-near = "10pt"
seconds-a-page = 1.5
seconds-a-file = 90
memory-mb = 256
[reading]
letters = "deu"
[target.a]
sheet = "narrow-film"
[target.b]
sheet = "narrow-film"
letters = "eng"
limits = { cut = "3pt" }
)");
  CHECK(c.limits.size_tolerance == Length::points(1));
  CHECK(c.limits.margin_tolerance == Length::points(0.02));
  CHECK(c.targets.at("a").limits.cut == Length::points(2));
  CHECK(c.targets.at("a").limits.guide_stroke == Length::points(4));
  CHECK(c.targets.at("a").limits.guide_near == Length::points(10));
  CHECK(c.targets.at("a").limits.seconds_a_page == 1.5);
  CHECK(c.targets.at("a").limits.seconds_a_file == 90);
  CHECK(c.targets.at("a").limits.memory_mb == 256);
  CHECK(c.targets.at("a").letters == std::vector<std::string>{"deu"});
  CHECK(c.targets.at("b").limits.cut == Length::points(3));
  CHECK(c.targets.at("b").limits.memory_mb == 256);
  CHECK(c.targets.at("b").letters == std::vector<std::string>{"eng"});
}

TEST_CASE("each key of an intake is read") {
  auto const intake = parsed(std::string(kIntake) + R"(poll = "2s"
settle = "500ms"
duplicates = "again"
tries = 3
keep-originals = "90d"
subfolders = false
partial = ["*.part", ".~*"]
send = false
job-sheet = true
customers-door = true
[[intake.i.rule]]
match = "*-dark*"
target = "a"
copies = 2
white = "80%"
[[intake.i.rule]]
match = "*"
)")
                          .intakes.at("i");
  CHECK(intake.name == "i");
  CHECK(intake.ready == "/shop/ready");
  CHECK(intake.held == "/shop/held");
  CHECK(intake.originals == "/shop/originals");
  CHECK(intake.settings == std::map<std::string, std::string>{{"poll", "2s"},
                                                              {"settle", "500ms"},
                                                              {"duplicates", "again"},
                                                              {"tries", "3"},
                                                              {"keep-originals", "90d"},
                                                              {"subfolders", "false"},
                                                              {"partial", "*.part\n.~*"},
                                                              {"send", "false"},
                                                              {"job-sheet", "true"},
                                                              {"customers-door", "true"}});
  REQUIRE(intake.rules.size() == 2);
  CHECK(intake.rules[0].match == "*-dark*");
  CHECK(intake.rules[0].target == "a");
  CHECK(intake.rules[0].copies == 2);
  REQUIRE(intake.rules[0].white);
  CHECK(intake.rules[0].white->percent == 80.0);
  CHECK_FALSE(intake.rules[1].white);
  CHECK(intake.rules[1].target.empty());
  CHECK_FALSE(intake.rules[1].copies);
}

TEST_CASE("a mistake is reported with file, line, column and what was expected") {
  auto const [text, place, why] = GENERATE(table<std::string, std::string, std::string>({
      {"unti = \"in\"", "1:1", "did you mean \"unit\"?"},
      {"\n\n  marign = 1", "3:3", "unknown key \"marign\""},
      {"version = 2", "1:11", "2 is not a whole number from 1 to 1"},
      {"unit = \"ft\"", "1:8", "use in, mm or pt"},
      {"unit = \u201cin\u201d", "1:8", "type straight ones"},
      {"unit = \"in\"\n[sheet.a]\nsize = \u201cA4\u201d", "3:8", "type straight ones"},
      {"unit = 1", "1:8", "but found a whole number"},
      {"sheet = 1", "1:9", "[sheet.NAME]"},
      {"[sheet]\nsize = \"A4\"", "2:8", "a name of its own"},
      {"[sheet.a]\nfeed = \"short-edge\"", "1:1", "the key \"size\" is missing"},
      {"[sheet.a]\nsize = \"A44\"", "2:8", "did you mean \"A4\"?"},
      {"[sheet.a]\nsize = \"8.5x17\"", "2:8", "no unit"},
      {"[sheet.a]\nsize = \"0x17in\"", "2:8", "above zero"},
      {"[sheet.a]\nsize = \"A4\"\nmargins = \"1in\"", "3:1", "did you mean \"margin\"?"},
      {"[sheet.a]\nsize = \"A4\"\nmargin = 0.25", "3:10", "such as \"0.25in\""},
      {"[sheet.a]\nsize = \"A4\"\nmargin = \"0.25\"", "3:10", "the unit is missing"},
      {"[sheet.a]\nsize = \"A4\"\nmargin = \"-1mm\"", "3:10", "below zero"},
      {"[sheet.a]\nsize = \"A4\"\nmargin = \"105mm\"", "3:10", "no room for ink"},
      {"[sheet.a]\nsize = \"A4\"\nmargin = [\"1mm\"]", "3:10", "four lengths"},
      {"[sheet.a]\nsize = \"A4\"\nmargin = { lefd = \"1mm\" }", "3:12", "did you mean \"left\"?"},
      {"[sheet.a]\nsize = \"0.4x17in\"", "1:1", "no room for ink"},
      {"[sheet.a]\nsize = \"A4\"\nfeed = \"short\"", "3:8", "use short-edge or long-edge"},
      {"[sheet.\"\"]\nsize = \"A4\"", "1:8", "is no name"},
      {"[press.p]\nipp = \"http://localhost\"", "2:7", "ipp:// or ipps://"},
      {"[press.p]\nipp = \"ipp:///x\"", "2:7", "ipp:// or ipps://"},
      {"[press.p]\nqueue = \"film/one/two\"", "2:9", "film/instance"},
      {"[press.p]\nqueue = \"our film\"", "2:9", "film/instance"},
      {"[press.p]\nqueue = \"\"", "2:9", "it is empty"},
      {"[press.p]\nqueue = \"film\"\nipp = \"ipp://localhost/ipp/print\"", "1:1", "keep one of the two"},
      {"[press.p]\nmedia-source = \"by pass\"", "2:16", "is no keyword"},
      {"[press.p]\nmedia-sorce = \"x\"", "2:1", "did you mean \"media-source\"?"},
      {"[press.p]\nprint-quality = \"best\"", "2:17", "draft, normal or high"},
      {"[press.p]\nprinter-resolution = \"fine\"", "2:22", "is no resolution"},
      {"[press.p]\nprinter-resolution = \"0x600dpi\"", "2:22", "is no resolution"},
      {"[press.p]\nprints-white = \"yes\"", "2:16", "true or false without quotes"},
      {"[press.p]\nppd = \"\"", "2:7", "it is empty"},
      {"[press.p]\nppd = \"a\\u0000b\"", "2:7", "control characters"},
      {"[press.p]\noptions = \"x\"", "2:11", "own options"},
      {"[press.p]\noptions = { A = true }", "2:17", "in quotes"},
      {"[press.p]\ntoner = 3", "2:9", "table of inks"},
      {"[press.p]\ntoner = { Black = { price = 80 } }", "2:", "\"pages\" is missing"},
      {"[press.p]\ntoner = { Black = { price = 80, pages = 0 } }", "2:", "above zero"},
      {"[press.p]\ntoner = { Black = { price = 80, pages = 10, page = 3 } }", "2:", "unknown key"},
      {"[press.p]\ncurrency = 3", "2:12", "in quotes"},
      {"[press.p]\noptions = { \"a b\" = \"c\" }", "2:21", "no option of a press has such a name"},
      {"[press.p]\noptions = { A = \"c\\n*x\" }", "2:17", "control characters"},
      {"[target.t]\npress = \"p\"", "1:1", "the key \"sheet\" is missing"},
      {"[target.t]\nsheet = \"narow-film\"", "2:9", "did you mean \"narrow-film\"?"},
      {"[target.t]\nsheet = \"else\"", "2:9", "known here: narrow-film, wide-film"},
      {"[target.t]\nsheet = \"narrow-film\"\npress = \"bench\"", "3:9", "describe it in [press.bench]"},
      {"[press.bench]\n[target.t]\nsheet = \"narrow-film\"\npress = \"bnech\"", "4:9", "did you mean \"bench\"?"},
      {"[target.t]\nsheet = \"narrow-film\"\nreading = \"mirror\"", "3:11", "use right, wrong or as-is"},
      {"[target.t]\nsheet = \"narrow-film\"\nwhite = \"401%\"", "3:9", "more than four full layers"},
      {"[target.t]\nsheet = \"narrow-film\"\nwhite = \"101%\"", "3:9", "101% is more than the press may lay, 100%"},
      {"[press.p]\nwhite-limit = \"80%\"\n[target.t]\nsheet = \"narrow-film\"\npress = \"p\"\nwhite = \"81%\"", "6:9", "white-limit = \"81%\""},
      {"[press.p]\nwhite-limit = \"on\"", "2:15", "share of one full layer"},
      {"[press.p]\nunknown-size = \"never\"", "2:16", "expected \"print\""},
      {"[press.p]\nother-tray = { print = { T = \"Off\" } }", "2:16", "known here: never"},
      {"[target.t]\nsheet = \"narrow-film\"\nwhite = true", "3:9", "but found true or false"},
      {"[target.t]\nsheet = \"narrow-film\"\nscale = \"80\"", "3:9", "is no scale"},
      {"[target.t]\nsheet = \"narrow-film\"\nscale = \"fit\"\nwidth = \"1in\"", "3:9", "take out one or the other"},
      {"[target.t]\nsheet = \"narrow-film\"\nwidth = \"0in\"", "3:9", "above zero"},
      {"[target.t]\nsheet = \"narrow-film\"\nturn = 45", "3:8", "is no turn"},
      {"[target.t]\nsheet = \"narrow-film\"\noffset = \"1in\"", "3:10", "is no offset"},
      {"[target.t]\nsheet = \"narrow-film\"\noffset = \"1in,2\"", "3:10", "the unit is missing"},
      {"[target.t]\nsheet = \"narrow-film\"\ncopies = 0", "3:10", "from 1 to 9999"},
      {"[target.t]\nsheet = \"narrow-film\"\ncopies = 1.5", "3:10", "but found a number"},
      {"[target.t]\nsheet = \"narrow-film\"\nmargin = \"9in\"", "3:10", "no room for ink"},
      {"[target.t]\nsheet = \"narrow-film\"\nletters = \"../x\"", "3:11", "names no languages"},
      {"[target.t]\nsheet = \"narrow-film\"\nletters = []", "3:11", "at least one language"},
      {"[target.t]\nsheet = \"narrow-film\"\nlimits = { cut = 1 }", "3:18", "such as \"0.25in\""},
      {"[limits]\nseconds-a-page = nan", "2:18", "finite and above zero"},
      {"[limits]\nseconds-a-page = inf", "2:18", "finite and above zero"},
      {"[limits]\nmemory-mb = 0", "2:13", "finite and above zero"},
      {"[limits]\ncut = \"infin\"", "2:7", "is no length"},
      {"[reading]\nleters = \"eng\"", "2:1", "did you mean \"letters\"?"},
      {"[intake.i]\ntarget = \"x\"", "2:10", "there is no target \"x\""},
      {"[target.a]\nsheet = \"A4\"\n[intake.i]\ntarget = \"a\"", "3:1", "the key \"in\" is missing"},
      {"a = 2026-01-01", "1:1", "unknown key"},
      {"unit = 2026-01-01", "1:8", "found a date or time"},
      {"unit = \"in\"\nunit = \"mm\"", "2:", "unit"},
      {"unit = \"\xFF\"", "1:", "utf-8"},
      {"[sheet.a", "1:", ""},
      {"unit = \"in", "1:", ""},
  }));
  CAPTURE(text);
  auto const configuration = parse_configuration(text, kPath);
  REQUIRE_FALSE(configuration);
  CHECK(configuration.error().kind == ErrorKind::usage);
  CHECK_THAT(configuration.error().message, StartsWith(std::string(kPath) + ":" + place) && Contains(why, Catch::CaseSensitive::No));
}

TEST_CASE("an intake's mistakes are reported") {
  auto const [lines, why] = GENERATE(table<std::string, std::string>({
      {"poll = \"2\"", "is no time"},
      {"settle = 2", "such as \"2s\""},
      {"keep-originals = \"90 days\"", "is no time"},
      {"duplicates = \"keep\"", "use hold, again or skip"},
      {"tries = 0", "from 1 to 100"},
      {"partial = [1]", "such as \"*.part\""},
      {"rule = 1", "[[intake.NAME.rule]]"},
      {"[[intake.i.rule]]\nmatch = \"*\"\nwhite = \"101%\"", "more than the press may lay, 100%"},
      {"[[intake.i.rule]]\nmatch = \"*\"\ngoods = \"dark\"", "yours to say: white = \"80%\" here"},
      {"[[intake.i.rule]]\ntarget = \"a\"", "the key \"match\" is missing"},
      {"[[intake.i.rule]]\nmatch = \"*\"\ntarget = \"b\"", "there is no target \"b\""},
      {"subfolders = true\n[intake.j]\ntarget = \"a\"\nin = \"x\"\nready = \"x/y\"\nheld = \"h\"\noriginals = \"o\"\nledger = "
       "\"l\"\nsubfolders = true",
       "lies inside the watched folder"},
      {"[intake.j]\ntarget = \"a\"\nin = \"x\"\nready = \"x\"\nheld = \"h\"\noriginals = \"o\"\nledger = \"l\"", "are the same place"},
      {"[intake.j]\ntarget = \"a\"\nin = \"./in/\"\nready = \"r\"\nheld = \"h\"\noriginals = \"o\"\nledger = \"l\"",
       "watches the same folder as [intake.i]"},
  }));
  CAPTURE(lines);
  auto const configuration = parse_configuration(kIntake + lines, kPath);
  REQUIRE_FALSE(configuration);
  CHECK_THAT(configuration.error().message, Contains(why));
}

TEST_CASE("hostile files give an error, not a crash") {
  std::string deep;
  for (int i = 0; i < 100000; ++i) deep += "a.";
  auto const text = GENERATE_COPY(values<std::string>({std::string(1'000'001, ' '), deep + "a = 1", "a = " + std::string(100000, '['),
                                                       std::string("unit = \"in\"\0", 12), std::string(1000, '\0'), "[" + deep + "a]"}));
  auto const configuration = parse_configuration(text, kPath);
  REQUIRE_FALSE(configuration);
  CHECK(configuration.error().kind == ErrorKind::usage);
  CHECK_THAT(configuration.error().message, StartsWith(kPath));
}

TEST_CASE("files are loaded, or it is told why not") {
  ConfigurationFolder const folder;
  auto const file = folder.write("layright.toml", "[press.p]\nppd = \"p.ppd\"");
  auto const c = load_configuration(file);
  REQUIRE(c);
  CHECK(c->path == file);
  CHECK(c->presses.at("p").ppd == (folder.path / "p.ppd").string());
  for (auto const& path : {folder.path, folder.path / "absent.toml", file / "below"}) {
    auto const none = load_configuration(path);
    REQUIRE_FALSE(none);
    CHECK(none.error().kind == ErrorKind::no_input);
    CHECK_THAT(none.error().message, StartsWith(path.string()));
  }
  CHECK_THAT(load_configuration(folder.write("large.toml", std::string(1'000'001, '#'))).error().message, Contains("larger than 1 MB"));
  CHECK(load_configuration(folder.write("full.toml", std::string(1'000'000, '#'))));
}

TEST_CASE("the configuration is found in the folder, above it, or in the user's own") {
  ConfigurationFolder const folder;
  auto const deep = folder.path / "a" / "b";
  fs::create_directories(deep);
  fs::create_directories(folder.path / "a" / "b" / "layright.toml");  // a folder of that name is none
  auto const home = folder.write("home/.config/layright/layright.toml", "");
  auto const xdg = folder.write("xdg/layright/layright.toml", "");
  ::setenv("HOME", (folder.path / "home").c_str(), 1);
  ::unsetenv("XDG_CONFIG_HOME");
  CHECK(find_configuration(deep) == home);
  ::setenv("XDG_CONFIG_HOME", "relative", 1);  // the specification has it ignored
  CHECK(find_configuration(deep) == home);
  ::setenv("XDG_CONFIG_HOME", (folder.path / "xdg").c_str(), 1);
  CHECK(find_configuration(deep) == xdg);
  ::setenv("XDG_CONFIG_HOME", (folder.path / "nowhere").c_str(), 1);
  CHECK_FALSE(find_configuration(deep));
  auto const above = folder.write("layright.toml", "");
  CHECK(find_configuration(deep) == above);
  auto const nearer = folder.write("a/layright.toml", "");
  CHECK(find_configuration(deep) == nearer);
}

TEST_CASE("a sheet is found by its name, else by its size") {
  auto const c = parsed("[sheet.A4]\nsize = \"A4\"\nmargin = \"1mm\"");
  CHECK(find_sheet(c, "A4")->margins == Margins::all(Length::millimetres(1)));
  CHECK(find_sheet(c, "A5")->margins == Margins::all(kUsualMargin));
  CHECK(find_sheet(c, "17x8.5in")->width == Length::inches(8.5));
  CHECK_THAT(find_sheet(c, "wide-flim").error().message, Contains("did you mean \"wide-film\"?"));
  CHECK_THAT(find_sheet(c, "8.5x17").error().message, Contains("no unit"));
  CHECK_THAT(find_sheet(c, "custom_8.5x17in").error().message, Contains("two underscores"));
  CHECK_THAT(find_sheet(c, "").error().message, Contains("empty"));
}

TEST_CASE("a profile of checks gives a target its levels and limits; the target's own limits go before it") {
  auto const c = parsed(R"([limits]
picture-ppi = 120
line-thin = "0.4pt"
[checks.strict]
picture.ppi = "hold"
picture.fine = "off"
"text.small" = "note"
limits = { picture-ppi = 200, colour-spaces = ["gray", "cmyk"], white-inks = [], standard-fonts = true, white-under-pct = 40, weed-width = "1pt", weed-square = "0.5mm", weed-length = "2mm" }
[target.plain]
sheet = "narrow-film"
[target.strict]
sheet = "narrow-film"
checks = "strict"
limits = { line-thin = "1pt" }
)");
  auto const& plain = c.targets.at("plain");
  CHECK(plain.levels.empty());
  CHECK(plain.limits.picture_ppi == 120);
  auto const& strict = c.targets.at("strict");
  CHECK(strict.levels.size() == 3);
  CHECK(strict.levels.at("picture.ppi") == CheckLevel::hold);
  CHECK(strict.levels.at("picture.fine") == CheckLevel::off);
  CHECK(strict.levels.at("text.small") == CheckLevel::note);
  CHECK(strict.limits.picture_ppi == 200);
  CHECK(strict.limits.line_thin == Length::points(1));
  CHECK(strict.limits.colour_spaces == std::vector<std::string>{"gray", "cmyk"});
  CHECK(strict.limits.white_inks.empty());
  CHECK(strict.limits.standard_fonts);
  CHECK(strict.limits.white_under_pct == 40);
  CHECK(strict.limits.weed_width == Length::points(1));
  CHECK(strict.limits.weed_square == Length::millimetres(0.5));
  CHECK(strict.limits.weed_length == Length::millimetres(2));
}

TEST_CASE("a press's toner has prices, by ink") {
  auto const c = parsed(R"([press.p]
currency = "EUR"
toner = { Black = { price = 80, pages = 7000 }, "Wharf Blue" = { price = 99.5, pages = 2500, coverage-pct = 20 } }
)");
  auto const& press = c.presses.at("p");
  CHECK(press.currency == "EUR");
  REQUIRE(press.toner.size() == 2);
  CHECK(press.toner.at("Black").price == 80);
  CHECK(press.toner.at("Black").pages == 7000);
  CHECK(press.toner.at("Black").coverage_pct == 5);
  CHECK(press.toner.at("Wharf Blue").price == 99.5);
  CHECK(press.toner.at("Wharf Blue").coverage_pct == 20);
}

TEST_CASE("mistakes in a profile of checks are reported with their place") {
  struct Row {
    std::string text, place, words;
  };
  for (Row const& row : {Row{"[checks.s]\npicture.ppi = \"loud\"", "2:", "off"}, Row{"[checks.s]\npicture = \"hold\"", "2:", "two words"},
                         Row{"[checks.s]\npicture.ppi = 3", "2:", "level"}, Row{"[checks.s]\nlimits = { picture-ppi = 0 }", "2:", "above zero"},
                         Row{"[checks.s]\nlimits = { colour-spaces = \"gray\" }", "2:", "list of names"},
                         Row{"[target.t]\nsheet = \"narrow-film\"\nchecks = \"strict\"", "3:", "[checks.strict]"},
                         Row{"[checks.strict]\n[target.t]\nsheet = \"narrow-film\"\nchecks = \"strikt\"", "4:", "strict"}}) {
    CAPTURE(row.text);
    auto const read = parse_configuration(row.text, "layright.toml");
    REQUIRE_FALSE(read);
    CHECK_THAT(read.error().message, Catch::Matchers::Contains("layright.toml:" + row.place) && Catch::Matchers::Contains(row.words));
  }
}
