// What a printer says of itself against what is asked: sizes, trays and types together, what lies loaded, toner, copies, defaults, own options.
#include <catch2/catch.hpp>

#include "setup/fitted_job.h"
#include "setup/ipp_values.h"
#include "setup/loaded.h"
#include "setup/network_press.h"
#include "setup/ppd_words.h"

using namespace layright;

namespace {

constexpr OfferedSize kLetter{21590, 21590, 27940, 27940}, kAny{9525, 33020, 12700, 49530}, kFilm{21590, 21590, 43180, 43180};

/// A press that offers all that the target asks for.
Offer offer() {
  Offer made;
  made.attributes = {{"media-source-supported", {"main", "by-pass-tray"}},    {"media-type-supported", {"stationery", "transparency"}},
                     {"output-bin-supported", {"face-down", "face-up"}},      {"print-quality-supported", {"3", "4", "5"}},
                     {"print-color-mode-supported", {"color", "monochrome"}}, {"printer-resolution-supported", {"600x600dpi", "1200x1200dpi"}},
                     {"print-scaling-supported", {"auto", "none"}},           {"copies-supported", {"1-99"}}};
  made.sizes = {kLetter, kAny};
  made.ready = {{kFilm, "by-pass-tray", "transparency", "short-edge-first"}};
  return made;
}

IppValue const* asked_as(FittedJob const& job, std::string const& name) {
  for (auto const& attribute : job.attributes)
    if (attribute.name == name) return &attribute.value;
  return nullptr;
}

}  // namespace

TEST_CASE("sizes, trays and types are taken together") {
  CHECK(lacking(network_target(), offer()) == "");
  struct Row {
    char const* what;
    std::vector<OfferedMedia> database;
    char const* says;  // empty: nothing
  };
  Row const rows[] = {
      {"the tray takes any size as the type", {{kAny, "by-pass-tray", "transparency", ""}}, ""},
      {"any tray", {{kAny, "", "", ""}}, ""},
      {"the tray, no type told", {{kAny, "by-pass-tray", "", ""}}, ""},
      {"only another tray takes the size",
       {{kAny, "main", "stationery", ""}, {kLetter, "by-pass-tray", "transparency", ""}},
       "hold press.size: the press does not take 8.5 x 17 in from by-pass-tray as transparency: it takes this size only as main (stationery): 3.75 x "
       "5 in to 13 x 19.5 in, and its by-pass-tray takes only by-pass-tray (transparency): 8.5 x 11 in\n"},
      {"the tray takes the size as another type only",
       {{kAny, "by-pass-tray", "stationery", ""}, {kLetter, "by-pass-tray", "transparency", ""}},
       "hold press.size"},
      {"the type in another tray only", {{kAny, "main", "transparency", ""}, {kAny, "by-pass-tray", "stationery", ""}}, "hold press.size"},
      {"of several entries one fits", {{kLetter, "by-pass-tray", "stationery", ""}, {kFilm, "by-pass-tray", "transparency", ""}}, ""},
      {"the size is told elsewhere, without a tray", {{kLetter, "by-pass-tray", "transparency", ""}}, "note press.size"}};
  for (auto const& row : rows) {
    INFO(row.what);
    auto made = offer();
    made.database = row.database;
    auto const says = lacking(network_target(), made, "press.size");
    INFO(says);
    CHECK((*row.says == 0 ? says.empty() : says.starts_with(row.says)));
  }
  // A sheet that is larger than everything.
  auto large = network_target();
  large.sheet.length = Length::inches(30);
  CHECK_THAT(lacking(large, offer(), "press.size"), Catch::Contains("nearest that it offers is 3.75 x 5 in to 13 x 19.5 in"));
}

TEST_CASE("a tray that feeds the other edge is a hold") {
  auto made = offer();
  made.ready.clear();
  made.database = {{kAny, "by-pass-tray", "", "long-edge-first"}};
  CHECK_THAT(lacking(network_target(), made, "press.feed"),
             Catch::Contains("hold press.feed: the press says that its tray by-pass-tray takes sheets long edge first"));
  auto across = network_target();
  across.sheet.feed = Feed::long_edge;
  CHECK(lacking(across, made, "press.feed") == "");
  made.database.push_back({kAny, "main", "", "short-edge-first"});  // another tray does not help
  CHECK_THAT(lacking(network_target(), made, "press.feed"), Catch::Contains("hold"));
  auto anywhere = network_target();
  anywhere.press.media_source.clear();
  CHECK(lacking(anywhere, made, "press.feed") == "");  // some tray takes it so
  made.database.pop_back();
  CHECK_THAT(lacking(anywhere, made, "press.feed"), Catch::Contains("hold"));
}

TEST_CASE("what lies loaded: other media hold, untold is a remark") {
  auto made = offer();
  CHECK(lacking(network_target(), made, "press.loaded") == "");
  for (auto const& [ready, says] : std::vector<std::pair<OfferedMedia, std::string>>{
           {{kLetter, "by-pass-tray", "stationery", ""},
            "hold press.loaded: the press says that there lies in its by-pass-tray something else than 8.5 x 17 in, transparency: by-pass-tray "
            "(stationery): 8.5 x 11 in"},
           {{kLetter, "by-pass-tray", "transparency", ""}, "hold"},
           {{kFilm, "by-pass-tray", "stationery", ""}, "hold"},
           {{kFilm, "by-pass-tray", "", ""}, ""},
           {{{}, "by-pass-tray", "transparency", ""}, ""},
           {{{}, "by-pass-tray", "labels", ""}, "hold"},
           {{{}, "by-pass-tray", "", ""}, "note"},
           {{kLetter, "main", "stationery", ""}, "note press.loaded: the press does not tell what lies in its by-pass-tray"}}) {
    INFO(ready.source << ready.type << says);
    made.ready = {ready};
    auto const text = lacking(network_target(), made, "press.loaded");
    INFO(text);
    CHECK((says.empty() ? text.empty() : text.starts_with(says)));
  }
  made.ready.clear();
  CHECK_THAT(lacking(network_target(), made, "press.loaded"), Catch::StartsWith("note"));
}

TEST_CASE("toner that is low is a note, used up a hold") {
  auto made = offer();
  made.attributes["marker-names"] = {"Black", "Cyan", "Magenta", "Yellow", "Waste"};
  made.attributes["marker-types"] = {"toner", "toner", "toner", "toner", "waste-toner"};
  made.attributes["marker-low-levels"] = {"10", "10", "10", "2", "0"};
  made.attributes["marker-high-levels"] = {"100", "100", "100", "100", "95"};
  made.attributes["marker-levels"] = {"80", "3", "-2", "0", "0"};
  CHECK(lacking(network_target(), made, "press.supply") ==
        "note press.supply: cyan 3 %: it may not last for this job\nhold press.supply: yellow 0 %: it is used up; put a new one in before a sheet is "
        "spent\n");
  made.attributes["marker-levels"] = {"11", "10", "-3", "3", "97"};
  CHECK(lacking(network_target(), made, "press.supply") ==
        "note press.supply: cyan 10 %: it may not last for this job\nnote press.supply: waste 97 % full: the press will stop when it is\n");
  made.attributes.erase("marker-low-levels");
  made.attributes.erase("marker-names");
  made.attributes["marker-levels"] = {"100", "50", "50", "9"};
  CHECK_THAT(lacking(network_target(), made, "press.supply"), Catch::Contains("toner 9 %"));
}

TEST_CASE("copies are asked for or refused, never dropped") {
  auto asked = network_target();
  asked.copies = 3;
  CHECK(lacking(asked, offer(), "press.copies") == "");
  auto made = offer();
  made.attributes["copies-supported"] = {"1-2"};
  CHECK_THAT(lacking(asked, made, "press.copies"),
             Catch::Contains("hold press.copies: the press takes at most 2 copies of a job, and 3 are asked for"));
  made.attributes.erase("copies-supported");
  CHECK_THAT(lacking(asked, made, "press.copies"), Catch::Contains("does not take a number of copies"));
  asked.copies = 1;
  CHECK(lacking(asked, made, "press.copies") == "");
  CHECK(asked_as(fitted_job(asked, made), "copies") == nullptr);
}

TEST_CASE("a printer's own defaults are undone, and where they cannot be it is a hold") {
  auto made = offer();
  for (auto const& [name, values] :
       std::vector<std::pair<std::string, std::vector<std::string>>>{{"number-up-supported", {"1", "2", "4"}},
                                                                     {"number-up-default", {"2"}},
                                                                     {"finishings-supported", {"3", "4", "5"}},
                                                                     {"finishings-default", {"4"}},
                                                                     {"orientation-requested-supported", {"3", "4", "5", "6"}},
                                                                     {"orientation-requested-default", {"4"}},
                                                                     {"job-sheets-supported", {"none", "standard"}},
                                                                     {"job-sheets-default", {"standard"}},
                                                                     {"x-image-shift-supported", {"-500-500"}},
                                                                     {"x-image-shift-default", {"20"}},
                                                                     {"print-quality-default", {"3"}},
                                                                     {"print-color-mode-default", {"monochrome"}}})
    made.attributes[name] = values;
  auto asked = network_target();
  asked.press.print_quality.clear();
  asked.press.print_color_mode.clear();
  auto const job = fitted_job(asked, made);
  CHECK(job.findings.empty());
  CHECK(std::get<int>(*asked_as(job, "number-up")) == 1);
  CHECK(std::get<IppEnum>(*asked_as(job, "finishings")).value == 3);
  CHECK(std::get<IppEnum>(*asked_as(job, "orientation-requested")).value == 3);
  CHECK(std::get<IppKeyword>(*asked_as(job, "job-sheets")).word == "none");
  CHECK(std::get<int>(*asked_as(job, "x-image-shift")) == 0);
  CHECK(std::get<IppEnum>(*asked_as(job, "print-quality")).value == 4);
  CHECK(std::get<IppKeyword>(*asked_as(job, "print-color-mode")).word == "color");
  made.attributes["orientation-requested-supported"].push_back("7");  // none: as the page lies
  CHECK(std::get<IppEnum>(*asked_as(fitted_job(asked, made), "orientation-requested")).value == 7);
  made.attributes["finishings-supported"] = {"4", "5"};
  made.attributes["number-up-supported"] = {"2-4"};
  auto const text = lacking(asked, made, "press.default");
  CHECK_THAT(text, Catch::Contains("hold press.default: the press has a default of its own, number-up 2") && Catch::Contains("finishings 4"));
  made.attributes["finishings-default"] = {"3"};
  CHECK_THAT(lacking(asked, made, "press.default"), !Catch::Contains("finishings"));
}

TEST_CASE("own options go in the syntax that the press has for them") {
  OfferedSyntaxes const syntaxes = {{"x-darkness-supported", "rangeOfInteger"},
                                    {"x-span-default", "rangeOfInteger"},
                                    {"x-flag-default", "boolean"},
                                    {"x-mode-default", "enum"},
                                    {"x-dots-supported", "resolution"},
                                    {"x-word-supported", "keyword"},
                                    {"x-name-default", "nameWithoutLanguage"}};
  auto const value = [&](char const* name, char const* text) {
    auto const made = ipp_value(name, text, syntaxes);
    INFO((made ? "" : made.error().message));
    REQUIRE(made);
    return *made;
  };
  CHECK(std::get<int>(value("x-darkness", "5")) == 5);
  CHECK(std::get<IppRange>(value("x-span", "2-7")).to == 7);
  CHECK(std::get<IppRange>(value("page-ranges", "3")).from == 3);
  CHECK(std::get<bool>(value("x-flag", "true")));
  CHECK(std::get<IppEnum>(value("x-mode", "4")).value == 4);
  CHECK(std::get<IppEnum>(value("finishings", "staple")).value == 4);   // RFC 8011, 5.2.6
  CHECK(std::get<IppEnum>(value("print-quality", "high")).value == 5);  // RFC 8011, 5.2.13
  CHECK(std::get<IppEnum>(value("orientation-requested", "landscape")).value == 4);
  CHECK(std::get<IppResolution>(value("x-dots", "600x1200dpi")).along == 1200);
  CHECK(std::get<IppResolution>(value("x-dots", "240dpcm")).metric);
  CHECK(std::get<IppResolution>(value("of-its-own", "300dpi")).across == 300);
  CHECK(std::get<IppKeyword>(value("x-word", "very-fine")).word == "very-fine");
  CHECK(std::get<IppName>(value("x-name", "a, b")).text == "a, b");
  auto const several = std::get<IppSeveral>(value("finishings", "staple, 5"));
  REQUIRE(several.values.size() == 2);
  CHECK(std::get<IppEnum>(several.values[1].value).value == 5);
  CHECK(std::get<IppSeveral>(value("x-words", "one,two")).values.size() == 2);
  for (auto const& [name, text] : std::vector<std::pair<char const*, char const*>>{
           {"x-flag", "maybe"}, {"x-dots", "fine"}, {"finishings", "stapel"}, {"page-ranges", "7-2"}, {"x-darkness", "dark"}, {"number-up", "two"}}) {
    INFO(name);
    CHECK_FALSE(ipp_value(name, text, syntaxes));
  }
  auto asked = network_target();
  asked.press.options = {{"finishings", "stapel"}};
  CHECK_THAT(lacking(asked, offer(), "press.option"), Catch::Contains("hold press.option: finishings = \"stapel\" in the press's table is no enum"));
  asked.press.options = {{"finishings", "staple,5"}, {"x-dots", "600dpi"}};
  auto const text = ipptool_request(fitted_attributes(asked, offer()), "art", "application/pdf");
  CHECK_THAT(text, Catch::Contains("ATTR enum finishings 4,5\n") && Catch::Contains("ATTR resolution x-dots 600x600dpi\n"));
}
