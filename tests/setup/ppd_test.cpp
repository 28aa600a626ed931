// The invented press's PPDs (testfiles/press): each row names the rule it rests on.
#include "setup/ppd.h"

#include <catch2/catch.hpp>
#include <fstream>

#include "setup/ppd_words.h"
#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/press_target.h"
#include "support/program.h"

using namespace layright;

namespace {

std::unique_ptr<Ppd> press(std::string const& name) {
  auto ppd = Ppd::open(std::string(layright::test::kTestfiles) + "/press/" + name + ".ppd");
  REQUIRE(ppd);
  return std::move(ppd).value();
}

std::string choice(PressSetup const& setup, std::string const& option) {
  for (auto const& setting : setup.settings)
    if (setting.option == option) return setting.choice;
  return "(none)";
}

Finding const* finding(PressSetup const& setup, std::string const& check) {
  for (auto const& f : setup.findings)
    if (f.check == check) return &f;
  return nullptr;
}

}  // namespace

TEST_CASE("a film target comes out in the press's own words") {
  auto const setup = press("bench")->setup(film_target(8.5, 17), std::nullopt, Unit::inch);
  REQUIRE(setup);
  // Width across the feed first: PPD specification 4.3, 5.16. 8.5 x 17 in = 612 x 1224 pt exactly.
  CHECK(choice(*setup, "PageSize") == "Custom.612x1224");
  CHECK(choice(*setup, "InputSlot") == "Multipurpose");
  CHECK(choice(*setup, "MediaType") == "Transparency");
  CHECK(choice(*setup, "OutputBin") == "Straight");
  CHECK(choice(*setup, "Duplex") == "None");
  CHECK(choice(*setup, "Resolution") == "1200dpi");
  CHECK(choice(*setup, "cupsPrintQuality") == "High");
  CHECK(choice(*setup, "ColorModel") == "CMYK");
  CHECK(choice(*setup, "RenderingIntent") == "Relative");
  CHECK(choice(*setup, "MirrorPrint") == "False");
  CHECK(choice(*setup, "SizeStop") == "False");
  CHECK(choice(*setup, "TraySwitch") == "False");
  CHECK(choice(*setup, "WhiteLayer") == "Under");
  CHECK(choice(*setup, "WhiteShare") == "P80");
  CHECK(setup->findings.empty());
  for (auto const& setting : setup->settings) CHECK_FALSE(setting.why.empty());
}

TEST_CASE("sheets that a press cannot take are refused with its own line") {
  struct Row {
    char const* ppd;
    double width, length;
    char const* line;
  };
  auto const row =
      GENERATE(Row{"bench-narrow", 12.5, 19, "*ParamCustomPageSize Width: 1 points 210 612"},
               Row{"bench-short", 8.5, 17, "*ParamCustomPageSize Height: 2 points 210 1223"},
               Row{"bench", 2, 19, "*ParamCustomPageSize Width: 1 points 210 936"},
               Row{"bench-turned", 8.5, 17, "*ParamCustomPageSize Orientation: 5 int 2 2"},
               Row{"bench-by-tray", 12.5, 19, "*cupsMaxSize .Multipurpose.: \"700 1300\""}, Row{"bench-named", 12.5, 19, "*DefaultPageSize: Letter"});
  INFO(row.ppd);
  auto const setup = press(row.ppd)->setup(film_target(row.width, row.length), std::nullopt, Unit::inch);
  REQUIRE_FALSE(setup);
  CHECK(setup.error().kind == ErrorKind::hold);
  CHECK_THAT(setup.error().message, Catch::Contains(row.line));
}

TEST_CASE("limits hold to the point") {
  CHECK(press("bench-narrow")->setup(film_target(8.5, 17), std::nullopt, Unit::inch));
  CHECK_FALSE(press("bench-narrow")->setup(film_target(8.51, 17), std::nullopt, Unit::inch));
  CHECK(press("bench-by-tray")->setup(film_target(8.5, 17), std::nullopt, Unit::inch));  // 612 x 1224 inside 700 x 1300
}

TEST_CASE("the order of a PPD's parameters does not turn the sheet") {
  auto const name = GENERATE("bench", "bench-height-first", "bench-width-last");
  INFO(name);
  auto const ppd = press(name);
  auto const setup = ppd->setup(film_target(12.5, 19), std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(choice(*setup, "PageSize") == "Custom.900x1368");
  CHECK_THAT(ppd->code().document, Catch::Contains("*CustomPageSize True"));
}

TEST_CASE("a long-edge feed asks for the long side across the feed") {
  auto target = film_target(8.5, 11);
  target.sheet.feed = Feed::long_edge;
  auto const setup = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(choice(*setup, "PageSize") == "Custom.792x612");
  REQUIRE(finding(*setup, "press.feed"));  // the PPD's DefaultLeadingEdge is Short
  target.sheet = film_target(8.5, 17).sheet;
  target.sheet.feed = Feed::long_edge;
  CHECK_FALSE(press("bench")->setup(target, std::nullopt, Unit::inch));  // 17 in across the feed is too wide
}

TEST_CASE("margins, leading edge and widest media are reported with their lines") {
  auto const ppd = press("bench-long-edge");
  auto const wide = ppd->setup(film_target(12.5, 19), Rect<SheetSpace>{30, 30, 500, 500}, Unit::inch);
  REQUIRE(wide);
  REQUIRE(finding(*wide, "press.margin"));
  CHECK(finding(*wide, "press.margin")->level == Level::note);
  CHECK_THAT(finding(*wide, "press.margin")->message,
             Catch::Contains("left 0.333 in") && Catch::Contains("top 0.5 in") && Catch::Contains("*HWMargins: 24 12 24 36"));
  CHECK(finding(*wide, "press.feed")->level == Level::hold);
  CHECK(finding(*wide, "press.size")->level == Level::hold);  // 900 pt, *MaxMediaWidth 864
  auto const lost = ppd->setup(film_target(12.5, 19), Rect<SheetSpace>{18, 30, 500, 500}, Unit::inch);
  REQUIRE(lost);
  CHECK(finding(*lost, "press.margin")->level == Level::hold);
  auto const narrow = ppd->setup(film_target(8.5, 17), std::nullopt, Unit::inch);
  REQUIRE(narrow);
  CHECK_FALSE(finding(*narrow, "press.size"));
}

TEST_CASE("conflicts: gone round where nobody asked, an error that names both choices where both were asked for") {
  auto target = film_target(8.5, 17);
  auto const both = press("bench-strict")->setup(target, std::nullopt, Unit::inch);
  REQUIRE_FALSE(both);
  CHECK_THAT(both.error().message,
             Catch::Contains("InputSlot=Multipurpose") && Catch::Contains("MediaType=Transparency") && Catch::Contains("*UIConstraints"));
  // Without a tray asked for, the default Tray1 excludes a custom size in the bench's PPD: another tray is chosen, and it says so.
  target.press.media_source.clear();
  auto const round = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(round);
  CHECK(choice(*round, "InputSlot") == "Auto");
  CHECK(round->about(Topic::way_round));
  CHECK_THAT(round->about(Topic::way_round)->why, Catch::Contains("Tray1"));
}

TEST_CASE("a press's own names win, and unknown ones are left out and told") {
  auto target = film_target(8.5, 17);
  target.press.options = {{"MediaType", "Heavy"}, {"SizeStpo", "False"}, {"OutputBin", "Sideways"}};
  auto const setup = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(choice(*setup, "MediaType") == "Heavy");
  CHECK(choice(*setup, "SizeStpo") == "(none)");
  CHECK(choice(*setup, "OutputBin") == "Straight");
  std::string reported;
  for (auto const& f : setup->findings)
    if (f.level == Level::hold) reported += f.message + "\n";
  CHECK_THAT(reported, Catch::Contains("did you mean SizeStop?") && Catch::Contains("no choice Sideways for OutputBin"));
}

TEST_CASE("reversal: exactly where the target says") {
  auto target = film_target(8.5, 17);
  target.reverse_at = ReverseAt::printer;
  auto const by_printer = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(by_printer);
  CHECK(choice(*by_printer, "MirrorPrint") == "True");
  target.reverse_at = ReverseAt::rip;
  auto const by_rip = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(by_rip);
  CHECK(choice(*by_rip, "MirrorPrint") == "False");
}

TEST_CASE("pictures, plain paper, no white") {
  auto target = film_target(8.5, 17);
  target.render = Render::pictures;
  target.white = {};
  target.press.media_type = "stationery";
  target.press.printer_resolution = "600x1200dpi";
  auto const setup = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(choice(*setup, "RenderingIntent") == "Perceptual");
  CHECK(choice(*setup, "WhiteLayer") == "Off");
  CHECK(choice(*setup, "MediaType") == "Plain");
  CHECK(choice(*setup, "Resolution") == "600x1200dpi");
}

TEST_CASE("what is no PPD is reported, not guessed at") {
  CHECK(Ppd::open("/nowhere/at-all.ppd").error().kind == ErrorKind::no_input);
  auto const path = std::filesystem::temp_directory_path() / "layright-not-a.ppd";
  for (std::string const text : {"", "%PDF-1.4\n", "*PPD-Adobe: \"4.3\"\n*OpenUI *PageSize: PickOne\n*OpenUI", "\0\0\0\0"}) {
    std::ofstream(path) << text;
    auto const ppd = Ppd::open(path);
    if (ppd) {
      CHECK_FALSE((*ppd)->setup(film_target(8.5, 17), std::nullopt, Unit::inch));
    } else {
      CHECK(ppd.error().kind == ErrorKind::data);
    }
  }
  std::filesystem::remove(path);
}

TEST_CASE("a PPD cut anywhere, or with a byte changed, never brings it down") {
  std::ifstream file(std::string(layright::test::kTestfiles) + "/press/bench.ppd");
  std::string const whole((std::istreambuf_iterator<char>(file)), {});
  auto const path = std::filesystem::temp_directory_path() / "layright-damaged.ppd";
  int opened = 0;
  for (std::size_t i = 0; i < whole.size(); i += 97) {
    std::string text = i % 2 ? whole.substr(0, i) : whole;
    if (i % 2 == 0) text[i] = static_cast<char>(text[i] ^ 0x15);
    std::ofstream(path) << text;
    auto const ppd = Ppd::open(path);
    if (!ppd) continue;
    ++opened;
    auto const setup = (*ppd)->setup(film_target(8.5, 17), std::nullopt, Unit::inch);
    if (setup) CHECK(choice(*setup, "PageSize") == "Custom.612x1224");
  }
  CHECK(opened > 10);
  std::filesystem::remove(path);
}

TEST_CASE("resolutions: cross-feed first (RFC 8011, 5.1.16)") {
  CHECK(parse_resolution("600dpi") == Dots{600, 600});
  CHECK(parse_resolution("600x1200dpi") == Dots{600, 1200});
  CHECK(parse_resolution("100dpcm") == Dots{254, 254});
  for (char const* bad : {"", "dpi", "600", "0dpi", "-600dpi", "600x", "600xdpi", "Fine", "99999999999dpi"}) CHECK(parse_resolution(bad) == Dots{});
}

TEST_CASE("a PPD that is not whole is refused, and one that only its maker left untidy is not") {
  test::Folder const folder;
  auto const path = folder / "press.ppd";
  auto const bench = test::read_file(std::string(layright::test::kTestfiles) + "/press/bench.ppd");
  auto const opened = [&](std::string const& bytes) {
    test::write_file(path, bytes);
    auto const ppd = Ppd::open(path);
    return ppd ? std::string() : ppd.error().message;
  };
  CHECK(opened(bench) == "");
  auto const tray = bench.find("*InputSlot Tray1");
  REQUIRE(tray != std::string::npos);
  CHECK_THAT(opened(bench.substr(0, tray)),
             Catch::Contains("is not a whole PPD: it ends inside of what begins in line") && Catch::Contains("*OpenUI *InputSlot"));
  CHECK_THAT(opened(bench.substr(0, bench.find("setpagedevice", tray))), Catch::Contains("is not a whole PPD"));
  std::string untidy = bench;
  untidy.erase(untidy.find("*CloseUI: *InputSlot"), 20);
  CHECK(opened(untidy) == "");
  CHECK_THAT(opened(bench + std::string(17u << 20, '*') + "\n"), Catch::Contains("longer than any PPD (16 MB)") || Catch::Contains("Line longer"));
  std::string endless = bench;
  while (endless.size() < (17u << 20)) endless += "*% " + std::string(200, 'x') + "\n";
  CHECK_THAT(opened(endless), Catch::Contains("longer than any PPD (16 MB)"));
  test::write_file(path, bench);
  REQUIRE(test::run({"gzip", "-9", path.string()}, folder.path()).status == 0);
  auto const packed = test::read_file(folder / "press.ppd.gz");
  CHECK(opened(packed) == "");
  CHECK_THAT(opened(packed.substr(0, packed.size() - 300)), Catch::Contains("compressed bytes are cut short"));
}

TEST_CASE("choices go by what they do, not by what they are called") {
  auto const ppd = press("bench-misleading");
  auto target = film_target(8.5, 17);
  target.press.no_tray_switch.clear();
  target.press.never_other_tray = false;
  target.press.printer_resolution = "1200dpi";
  auto const setup = ppd->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(choice(*setup, "ADuplexUnit") == "(none)");  // a part, no choice of sides
  CHECK(choice(*setup, "Duplex") == "None");
  CHECK(choice(*setup, "BannerInputSlot") == "(none)");
  CHECK(choice(*setup, "InputSlot") == "Multipurpose");
  CHECK(choice(*setup, "TRMediaType") == "M7");           // by the PPD's own English
  CHECK(choice(*setup, "Resolution") == "900dpi");        // its code sets 1200 x 1200
  CHECK(choice(*setup, "cupsPrintQuality") == "(none)");  // High would print at 600
  CHECK(choice(*setup, "RenderingIntent") == "Solid");
  // Its default separations exclude that resolution; switching on another that nobody asked for is no way out.
  CHECK(choice(*setup, "Separations") == "(none)");
  REQUIRE(finding(*setup, "press.conflict"));
  CHECK(finding(*setup, "press.conflict")->level == Level::hold);
  CHECK_THAT(finding(*setup, "press.conflict")->message,
             Catch::Contains("Resolution=900dpi and Separations=All") && Catch::Contains("*UIConstraints"));
  REQUIRE(finding(*setup, "press.tray-switch"));
  CHECK_THAT(finding(*setup, "press.tray-switch")->message, Catch::Contains("TraySwitch=True stays") && Catch::Contains("other-tray = \"never\""));
  target.press.printer_resolution = "finest";
  auto const finest = ppd->setup(target, std::nullopt, Unit::inch);
  REQUIRE(finest);
  CHECK(choice(*finest, "Resolution") == "1200x1200dpi");  // the finest that goes with the rest
  CHECK_FALSE(finding(*finest, "press.conflict"));
  CHECK(finding(*finest, "press.resolution")->level == Level::hold);
  CHECK_THAT(finding(*finest, "press.resolution")->message, Catch::Contains("does not go with Separations=All"));
}

TEST_CASE("guards are switched off by the words alone where the driver tells which option they are") {
  auto target = film_target(8.5, 17);
  target.press.no_size_check.clear();
  target.press.no_tray_switch.clear();
  auto const setup = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(setup->about(Topic::size_check)->choice == "False");
  CHECK(setup->about(Topic::tray_switch)->choice == "False");
  target.press.print_unknown_size = target.press.never_other_tray = false;
  auto const on = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(on);
  CHECK_FALSE(on->about(Topic::tray_switch));
  CHECK(finding(*on, "press.size-check")->level == Level::note);
  CHECK(finding(*on, "press.tray-switch")->level == Level::note);
  target.press.options = {{"TraySwitch", "False"}, {"SizeStop", "False"}};
  auto const own = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(own);
  CHECK_FALSE(finding(*own, "press.size-check"));
}

TEST_CASE("a size among the press's own options is reported, not obeyed") {
  auto target = film_target(8.5, 17);
  auto const name = GENERATE("PageSize", "PageRegion");
  target.press.options = {{name, "A4"}};
  auto const setup = press("bench")->setup(target, std::nullopt, Unit::inch);
  REQUIRE(setup);
  CHECK(choice(*setup, "PageSize") == "Custom.612x1224");
  REQUIRE(finding(*setup, "press.option"));
  CHECK_THAT(finding(*setup, "press.option")->message, Catch::Contains(std::string(name) + "=A4") && Catch::Contains("the target's sheet"));
}
