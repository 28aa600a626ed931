// The job sheet as poppler reads and draws it: one page, its words, embedded fonts, nothing beyond the paper, in several scripts.
#include "report/job_sheet.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <set>
#include <vector>

#include "setup/press_setup.h"
#include "support/places.h"
#include "support/press_target.h"
#include "support/program.h"

using namespace layright;
using layright::test::shell;
namespace fs = std::filesystem;

namespace {

JobSheet job(std::string const& name) {
  JobSheet sheet;
  sheet.target = film_target(8.5, 17);
  sheet.target.press.ppd = std::string(layright::test::kTestfiles) + "/press/bench.ppd";
  auto const press = prepare_press(sheet.target, std::nullopt, sheet.unit);
  REQUIRE(press);
  sheet.file = JobFile{name, "3fa29c0be2d1a4775c6f0e9d8b7a6543210fedcba98765432100112233445566", 348211, 2, Reading::right};
  sheet.date = "2026-03-01";
  sheet.ink = Rect<SheetSpace>{80, 300, 530, 960};
  sheet.large = large_words(sheet.target, press->setup, sheet.unit);
  sheet.ticks = job_ticks(sheet.target, press->setup, sheet.file, sheet.unit);
  auto const list = operator_list(sheet.target, press->setup, sheet.file, sheet.unit);
  sheet.notes = list.watch;
  sheet.cautions = list.cautions;
  return sheet;
}

struct Made {
  fs::path path = fs::temp_directory_path() / ("layright-sheet-" + std::to_string(reinterpret_cast<std::uintptr_t>(this)) + ".pdf");
  explicit Made(JobSheet const& sheet) {
    auto const pdf = make_job_sheet(sheet);
    INFO((pdf ? "" : pdf.error().message));
    REQUIRE(pdf);
    std::ofstream(path, std::ios::binary) << *pdf;
  }
  ~Made() { fs::remove(path); }
  std::string of(std::string const& tool, std::string const& after = "") const { return shell(tool + " '" + path.string() + "'" + after); }
  /// Column by column, lines joined.
  std::string flowing() const {
    std::string out;
    for (char const c : of("pdftotext", " -"))
      if (c != '\n') out += c;
      else if (!out.ends_with(' ')) out += ' ';
    return out;
  }
  std::string text() const { return of("pdftotext -layout", " -"); }
  /// Words that reach beyond the page less `margin` points, by poppler's own boxes.
  int words_outside(double width, double height, double margin) const {
    auto const all = of("pdftotext -bbox", " -");
    int outside = 0;
    for (auto at = all.find("<word "); at != std::string::npos; at = all.find("<word ", at + 1)) {
      double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
      REQUIRE(std::sscanf(all.c_str() + at, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"", &x0, &y0, &x1, &y1) == 4);
      outside += x0 < margin || y0 < margin || x1 > width - margin || y1 > height - margin;
    }
    return outside;
  }
};

}  // namespace

TEST_CASE("the job sheet is one page that says what the operator needs") {
  Made const made(job("lantern.pdf"));
  CHECK_THAT(made.of("pdfinfo"), Catch::Contains("Pages:           1\n") && Catch::Contains("595.276 x 841.89 pts (A4)"));
  CHECK_THAT(made.of("qpdf --check"), Catch::Contains("No syntax or stream encoding errors"));
  auto const text = made.flowing();
  for (char const* part :
       {"Print this file", "2026-03-01", "lantern.pdf", "3fa29c0be2d1a4775c6f0e9d8b7a6543", "2 sheets (2 pages)", "8.5 x 17 in", "SHORT EDGE FIRST",
        "MIRROR OFF", "PageSize = Custom.612x1224", "InputSlot = Multipurpose", "MediaType = Transparency", "OutputBin = Straight",
        "80 % of one full layer", "rates for laser fusing", "heat press", "fumes", "local codes", "this short edge first", "trial sheet"}) {
    INFO(part << "\n" << text);
    CHECK(text.find(part) != std::string::npos);
  }
}

TEST_CASE("the cuts of a gang stand on pages of their own, in their order") {
  auto sheet = job("sheets.pdf");
  for (int number = 1; number <= 9; ++number) {
    sheet.cuts.push_back({number, {}});
    for (int cut = 1; cut <= 17; ++cut)
      sheet.cuts.back().lines.push_back("across at " + std::to_string(cut) + " in from the bottom, from 0.25 in to 8.25 in");
  }
  Made const made(sheet);
  // Two columns of 56 rows on A4; each cut takes one or two: worked out by hand.
  CHECK_THAT(made.of("pdfinfo"), Catch::Contains("Pages:           3\n") || Catch::Contains("Pages:           4\n"));
  CHECK_THAT(made.of("qpdf --check"), Catch::Contains("No syntax or stream encoding errors"));
  CHECK(made.words_outside(595.276, 841.89, 20) == 0);
  auto const text = made.of("pdftotext -raw", " -");
  std::size_t at = text.find("Cuts, in this order");
  REQUIRE(at != std::string::npos);
  for (int number = 1; number <= 9; ++number) {
    at = text.find("Sheet " + std::to_string(number), at);
    REQUIRE(at != std::string::npos);
    for (int cut = 1; cut <= 17; ++cut) {
      at = text.find("across at " + std::to_string(cut) + " in", at);
      REQUIRE(at != std::string::npos);
    }
  }
}

TEST_CASE("every font of the job sheet is embedded and its words can be found") {
  auto const fonts = Made(job("lantern.pdf")).of("pdffonts");
  // pdffonts: columns emb, sub, uni
  int rows = 0;
  std::size_t start = fonts.find('\n', fonts.find("---")) + 1;
  for (auto end = fonts.find('\n', start); end != std::string::npos; start = end + 1, end = fonts.find('\n', start), ++rows)
    CHECK_THAT(fonts.substr(start, end - start), Catch::Contains("yes yes yes"));
  CHECK(rows == 2);
}

TEST_CASE("file names are text in whatever script a font here has; what none has is told in code points") {
  struct Row {
    char const *name, *found;
  };
  auto const row =
      GENERATE(Row{"Φανάρι.pdf", "Φανάρι.pdf"}, Row{"Ночь фонарей.pdf", "Ночь фонарей.pdf"}, Row{"Fête çà et là – Łódź.pdf", "Łódź.pdf"},
               Row{"\xff\xfe.pdf", "\\xff\\xfe.pdf"}, Row{"a\nb.pdf", "a\\x0ab.pdf"}, Row{"", "(no name)"},
               // With fonts-droid-fallback and fonts-freefont-ttf, each shaped: right to left, joined, and out of the order of its letters.
               Row{"灯笼之夜.pdf", "灯笼之夜.pdf"}, Row{"לילה.pdf", "לילה"}, Row{"مصباح.pdf", "مصباح"}, Row{"नमस्ते.pdf", "नमस्ते.pdf"},
               Row{"a𓀀b.pdf", "aU+13000b.pdf"});
  Made const made(job(row.name));
  CHECK_THAT(made.text(), Catch::Contains(row.found));
}

TEST_CASE("a name in a script that the text font does not write leaves ink on its line") {
  // Scripts by their own words for "night" and the like; which of them have a font here differs, code points are text.
  auto const name = GENERATE("灯笼之夜", "مصباح", "नमस्ते", "ประเทศไทย", "밤", "😀", "𓀀", "לילה");
  Made const made(job(name));
  auto const crop = fs::temp_directory_path() / "layright-name";
  // At 72 dpi the name's line lies right of x = 34 pt, between 44 and 66 pt from the top (seen on the page).
  shell("pdftoppm -r 72 -x 34 -y 44 -W 270 -H 22 -gray '" + made.path.string() + "' '" + crop.string() + "'");
  std::ifstream picture(crop.string() + "-1.pgm", std::ios::binary);
  std::string const bytes((std::istreambuf_iterator<char>(picture)), {});
  fs::remove(crop.string() + "-1.pgm");
  REQUIRE(bytes.size() > 5900);
  auto const ink = std::count_if(bytes.end() - 5900, bytes.end(), [](char c) { return static_cast<unsigned char>(c) < 128; });
  INFO(name);
  CHECK(ink > 20);
}

TEST_CASE("nothing runs off the paper, however long names and lists are") {
  auto const paper = GENERATE(JobSheetPaper::a4, JobSheetPaper::letter);
  auto const piece = GENERATE("W", "longer and ", "灯笼之夜");
  std::string name;
  while (name.size() < 240) name += piece;
  auto sheet = job(name);
  sheet.paper = paper;
  sheet.target.name = std::string(200, 'M');
  sheet.target.press.film_side_up = std::string(300, 'x') + " coated side";
  for (int i = 0; i < 40; ++i) sheet.notes.push_back("Something to mind number " + std::to_string(i) + std::string(120, 'm') + ".");
  Made const made(sheet);
  bool const a4 = sheet.paper == JobSheetPaper::a4;
  CHECK_THAT(made.of("pdfinfo"), Catch::Contains("Pages:           1\n"));
  CHECK(made.words_outside(a4 ? 595.28 : 612, a4 ? 841.89 : 792, 18) == 0);
  auto const text = made.text();
  CHECK_THAT(text, Catch::Contains("more: layright setup --as text") && Catch::Contains("rates for laser fusing"));
}

namespace {

/// The bounding boxes of a word, by poppler.
std::vector<double> heights_of(Made const& made, std::string const& word) {
  auto const all = made.of("pdftotext -bbox", " -");
  std::vector<double> heights;
  for (auto at = all.find(">" + word + "</word>"); at != std::string::npos; at = all.find(">" + word + "</word>", at + 1)) {
    auto const from = all.rfind("<word ", at);
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    REQUIRE(std::sscanf(all.c_str() + from, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"", &x0, &y0, &x1, &y1) == 4);
    heights.push_back(y1 - y0);
  }
  return heights;
}

}  // namespace

TEST_CASE("what must not go wrong is in letters that are read from two meters") {
  // 16 minutes of arc at 2 m are 9.31 mm (ISO 9241-303, from memory); capitals of DejaVu Sans Bold are 0.729 of the size (its OS/2 table), so
  // 36.2 points. poppler's boxes are as high as the font's ascent and descent, 1.164 of the size.
  auto sheet = job("lantern.pdf");
  sheet.target.press.film_side_up = "coated side up";
  sheet.large.side = sheet.target.press.film_side_up;
  Made const made(sheet);
  for (char const* word : {"17", "Multipurpose", "SHORT", "FIRST", "coated", "MIRROR", "OFF"}) {
    auto const heights = heights_of(made, word);
    INFO(word);
    REQUIRE_FALSE(heights.empty());
    CHECK(*std::max_element(heights.begin(), heights.end()) >= 36.2 * 1.164);
  }
}

TEST_CASE("mirror is on at the press only where the press does the one reversal") {
  auto target = film_target(8.5, 17);
  auto const [reading, at, says] = GENERATE(table<WantedReading, ReverseAt, std::string>({
      {WantedReading::wrong, ReverseAt::file, "MIRROR OFF"},
      {WantedReading::wrong, ReverseAt::printer, "MIRROR ON"},
      {WantedReading::wrong, ReverseAt::rip, "MIRROR OFF"},
      {WantedReading::as_is, ReverseAt::printer, "MIRROR OFF"},
  }));
  target.reading = reading;
  target.reverse_at = at;
  CHECK(large_words(target, PressSetup(), Unit::inch).mirror == says);
}

TEST_CASE("ten ticks at most, each heading once") {
  auto target = film_target(8.5, 17);
  target.heat = {15, 160, false, "medium"};
  target.plate.from = PlateFrom::all;
  target.reverse_at = GENERATE(ReverseAt::file, ReverseAt::printer, ReverseAt::rip);
  PressSetup setup;
  for (int topic = 0; topic <= static_cast<int>(Topic::way_round); ++topic)
    for (int twice = 0; twice < 2; ++twice) {
      setup.settings.push_back({static_cast<Topic>(topic), "Option" + std::to_string(topic), "Choice", "", "", "why"});
      setup.by_hand.push_back({static_cast<Topic>(topic), "set it", "set it"});
    }
  auto const ticks = job_ticks(target, setup, std::nullopt, Unit::inch);
  CHECK(ticks.size() <= kMostTicks);
  std::set<std::string> headings;
  std::string all;
  for (auto const& tick : ticks) headings.insert(tick.heading), all += tick.text;
  CHECK(headings.size() == ticks.size());
  for (int topic = 0; topic <= static_cast<int>(Topic::way_round); ++topic)
    CHECK(all.find("Option" + std::to_string(topic) + " ") != std::string::npos);
  CHECK_THAT(all, Catch::Contains("15 s, 160 °C (320 °F), medium pressure") && Catch::Contains("data sheet decides"));
}

TEST_CASE("sheets to load are pages times copies") {
  auto target = film_target(8.5, 17);
  CHECK(load_words(target, std::nullopt) == "1 sheet");
  target.copies = 3;
  CHECK(load_words(target, JobFile{"a.pdf", "", 0, 2}) == "6 sheets (2 pages x 3 copies)");
  CHECK(load_words(target, JobFile{"a.pdf", "", 0, 1}) == "3 sheets (3 copies)");
}

TEST_CASE("the barcode is read back from the printed page") {
  // By zbar (Debian's zbar-tools), from poppler's picture at 200 pixels to the inch.
  auto const code = GENERATE("7", "17", "123456", "front-desk:17");
  auto const paper = GENERATE(JobSheetPaper::a4, JobSheetPaper::letter);
  auto sheet = job("lantern.pdf");
  sheet.job = code;
  sheet.paper = paper;
  Made const made(sheet);
  auto const picture = fs::temp_directory_path() / ("layright-bars-" + std::to_string(reinterpret_cast<std::uintptr_t>(&made)));
  shell("pdftoppm -r 200 -gray -png -singlefile '" + made.path.string() + "' '" + picture.string() + "'");
  CHECK(shell("zbarimg -q --raw '" + picture.string() + ".png' 2>/dev/null") == std::string(code) + "\n");
  fs::remove(picture.string() + ".png");
  CHECK_THAT(made.text(), Catch::Contains("Job " + std::string(code)));
}

TEST_CASE("who released it, and each page up to six, is on it") {
  auto sheet = job("lantern.pdf");
  sheet.released = {"anna 2026-03-01: ink.guide, reads right"};
  for (int i = 0; i < 8; ++i) sheet.pictures.push_back({2, 4, std::vector<std::uint8_t>(24, static_cast<std::uint8_t>(20 * i))});
  Made const made(sheet);
  CHECK_THAT(made.text(), Catch::Contains("anna 2026-03-01: ink.guide, reads right") && Catch::Contains("page 6") && !Catch::Contains("page 7"));
  auto const images = made.of("pdfimages -list");
  int count = 0;
  for (auto at = images.find(" rgb "); at != std::string::npos; at = images.find(" rgb ", at + 1)) ++count;
  CHECK(count == 6);
  CHECK(made.words_outside(595.28, 841.89, 18) == 0);
}

TEST_CASE("the picture of the laid page stands where the sheet is") {
  auto sheet = job("lantern.pdf");
  sheet.pictures = {{2, 4, std::vector<std::uint8_t>(24, 255)}};
  for (int i = 0; i < 6; ++i) sheet.pictures[0].rgb[static_cast<std::size_t>(i)] = i % 3 == 0 ? 255 : 0;  // the top row is red
  Made const made(sheet);
  CHECK_THAT(made.of("pdfimages -list"), Catch::Contains("rgb     3   8"));
  sheet.pictures[0].width = 9999;  // not as many bytes as it says: left out
  CHECK(Made(sheet).of("pdfimages -list").find("rgb") == std::string::npos);
}

TEST_CASE("a trial that told which edge leads is believed") {
  auto sheet = job("lantern.pdf");
  sheet.target.press.trial = parse_trial("reads=right,leading=34", "2026-02-28").value();
  CHECK_THAT(Made(sheet).text(), Catch::Contains("as the trial sheet showed"));
}
