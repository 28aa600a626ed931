// Which way pages read, asked of the program as a person asks: whatever can lie between a letter and the page, every case of who reverses,
// what contradicts whom. Expectations are worked out by hand from ISO 32000-1 (8.3.4, 9.2.4, 9.3, 9.4.4, 9.6.5, 9.7.4.3, 8.7.3) and
// DESIGN section 3, rule 5.
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <nlohmann/json.hpp>

#include "support/pdf_maker.h"
#include "support/program.h"
#include "support/tiny_font.h"

namespace layright::test {
namespace {

using nlohmann::json;

constexpr char kSheet[] = "[0 0 612 1224]";  // 8.5 x 17 in: common practice, no published source

Ran layright(Folder const& folder, std::vector<std::string> words) {
  words.insert(words.begin(), LAYRIGHT_PROGRAM);
  return run(words, folder.path());
}

/// The first page of what `check` or `lay` tells, with the exit status as "status".
json told(Folder const& folder, std::string const& command, std::vector<std::string> words) {
  words.insert(words.begin(), {command, "--format", "json"});
  auto const ran = layright(folder, words);
  INFO(ran.out << ran.err);
  json page = json::parse(ran.out)["files"][0]["pages"][0];
  page["status"] = ran.status;
  return page;
}

std::string reads(Folder const& folder, std::string const& name, std::vector<std::string> more = {}) {
  more.insert(more.begin(), {name, "--reading", "right"});
  json const page = told(folder, "check", more);
  return page["reading"].get<std::string>() + " by " + page["reading_from"].get<std::string>();
}

bool finds(json const& page, std::string const& id) {
  return std::ranges::any_of(page["findings"], [&](json const& f) { return f["check"] == id; });
}

PageMaker& page_with_font(PdfMaker& pdf) { return pdf.page().media(kSheet).use("Font", "F", pdf.font("Times-Roman")); }

std::string words_at(int x, int y, std::string const& text = "Lanternwick fog", int size = 30) {
  return "BT /F " + std::to_string(size) + " Tf " + std::to_string(x) + " " + std::to_string(y) + " Td (" + text + ") Tj ET ";
}

void save(Folder const& folder, std::string const& name, std::string const& operators) {
  PdfMaker pdf;
  page_with_font(pdf).content(operators);
  pdf.save(folder / name);
}

std::string const kReversing = "-1 0 0 1 612 0 cm ";

/// A composite font (ISO 32000-1, 9.7) of the glyphs E F L Z 7, which its ToUnicode names `first` and the four after it.
Ref composite(PdfMaker& pdf, bool reversed, bool rewound, std::string const& encoding, std::vector<std::string> const& unicode) {
  std::vector<Corners> glyphs;
  for (char letter : std::string("EFLZ7")) {
    glyphs.push_back(letter_corners(letter, reversed));
    if (rewound) std::ranges::reverse(glyphs.back());
  }
  auto const file = pdf.stream("", truetype_of(glyphs));
  auto const descriptor = pdf.object("<< /Type /FontDescriptor /FontName /Tiny /Flags 4 /FontBBox [0 0 600 700] /ItalicAngle 0 /Ascent 800 /Descent -200 "
                                     "/CapHeight 700 /StemV 100 /FontFile2 " + file.text() + " >>");
  auto const descendant = pdf.object("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Tiny /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) "
                                     "/Supplement 0 >> /DW 600 /CIDToGIDMap /Identity /FontDescriptor " + descriptor.text() + " >>");
  std::string names;
  for (std::size_t i = 0; i < unicode.size(); ++i) names += "<000" + std::to_string(i + 1) + "> <" + unicode[i] + ">\n";
  auto const to_unicode = pdf.stream("", "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /Tiny def /CMapType 2 def\n"
                                         "1 begincodespacerange <0000> <FFFF> endcodespacerange\n5 beginbfchar\n" + names +
                                         "endbfchar endcmap end end");
  return pdf.object("<< /Type /Font /Subtype /Type0 /BaseFont /Tiny /Encoding /" + encoding + " /DescendantFonts [" + descendant.text() + "] /ToUnicode " +
                    to_unicode.text() + " >>");
}

std::vector<std::string> const kLatin{"0045", "0046", "004C", "005A", "0037"}, kHebrew{"05D3", "05D4", "05D1", "05E9", "05DC"};
std::string const kAllFive = "BT /F 40 Tf 1 0 0 1 100 900 Tm <00010002000300040005> Tj ET ";

/// A Type 3 font whose procedures draw E F L Z 7, reversed or upside down, under the matrix given.
Ref type3(PdfMaker& pdf, std::string const& matrix, bool reversed, bool upside_down = false) {
  std::string procedures, differences;
  for (auto const& [letter, name] : std::vector<std::pair<char, std::string>>{{'E', "E"}, {'F', "F"}, {'L', "L"}, {'Z', "Z"}, {'7', "seven"}}) {
    auto corners = letter_corners(letter, reversed);
    for (auto& [x, y] : corners)
      if (upside_down) y = -y;
    procedures += "/" + name + " " + pdf.stream("", "600 0 -600 -700 600 700 d1 " + path_of(corners)).text() + " ";
    differences += std::to_string(static_cast<int>(letter)) + " /" + name + " ";
  }
  return pdf.object("<< /Type /Font /Subtype /Type3 /FontBBox [-600 -700 600 700] /FontMatrix " + matrix + " /CharProcs << " + procedures +
                    ">> /Encoding << /Type /Encoding /Differences [" + differences + "] >> /FirstChar 55 /LastChar 90 /Widths [" +
                    [] { std::string w; for (int i = 55; i <= 90; ++i) w += "600 "; return w; }() + "] /Resources << >> >>");
}

/// A line of letters as a drawing program leaves them: paths.
std::string outlined() {
  std::string operators = "0 g 0.06 0 0 0.06 60 900 cm ";
  for (char letter : std::string("ELF FELL FEZ")) operators += (letter == ' ' ? "" : path_of(letter_corners(letter))) + "1 0 0 1 620 0 cm ";
  return operators;
}

}  // namespace

TEST_CASE("what lies between a letter and the page, multiplied out", "[program][reading]") {
  struct Case {
    std::string name, operators, reading;
  };
  std::vector<Case> const cases{
      {"upright", words_at(100, 900), "right"},
      {"reversed", kReversing + words_at(100, 900), "wrong"},
      {"upside down", "-1 0 0 -1 612 1224 cm " + words_at(100, 900), "right"},
      {"reversed twice", kReversing + kReversing + words_at(100, 900), "right"},
      {"a negative size turns it", words_at(500, 900, "Lanternwick fog", -30), "right"},
      {"a negative width reverses it", "BT /F 30 Tf -100 Tz 500 900 Td (Lanternwick fog) Tj ET", "wrong"},
      {"both stand it on its head in a mirror", "BT /F -30 Tf -100 Tz 100 900 Td (Lanternwick fog) Tj ET", "wrong"},
      {"a narrow width reverses nothing", "BT /F 30 Tf 20 Tz 100 900 Td (Lanternwick fog) Tj ET", "right"},
      {"a negative rise and spacing", "BT /F 30 Tf -9 Ts -2 Tc 100 900 Td (Lanternwick fog) Tj ET", "right"},
      {"a page that begins with a flip, undone by the text's", "0.5 0 0 -0.5 0 1224 cm BT /F 60 Tf 1 0 0 -1 100 600 Tm (Lanternwick fog) Tj ET", "right"},
      {"such a flip, not undone", "0.5 0 0 -0.5 0 1224 cm BT /F 60 Tf 1 0 0 1 100 600 Tm (Lanternwick fog) Tj ET", "wrong"},
      {"a flipped text matrix alone", "BT /F 30 Tf 1 0 0 -1 100 900 Tm (Lanternwick fog) Tj ET", "wrong"},
      {"slanted letters", "BT /F 30 Tf 1 0 0.4 1 100 900 Tm (Lanternwick fog) Tj ET", "right"},
      {"slanted backwards and reversed", "BT /F 30 Tf -1 0 -0.4 1 400 900 Tm (Lanternwick fog) Tj ET", "wrong"},
      {"strokes only", "BT /F 60 Tf 1 Tr -1 0 0 1 600 900 Tm (Lanternwick) Tj ET", "wrong"},
      {"letters that clip a ground", "q BT /F 60 Tf 7 Tr 100 900 Td (Lanternwick) Tj ET 0 0 612 1224 re f Q", "right"},
      {"symmetric letters in an order that tells", kReversing + words_at(100, 900, "TOMATO"), "wrong"},
  };
  Folder folder;
  for (auto const& c : cases) {
    CAPTURE(c.name);
    save(folder, "page.pdf", c.operators);
    CHECK(reads(folder, "page.pdf") == c.reading + " by text");
  }
}

TEST_CASE("turning the page changes nothing", "[program][reading]") {
  Folder folder;
  for (bool reversed : {false, true})
    for (auto const* rotate : {"0", "90", "180", "270", "-90", "450"}) {
      CAPTURE(reversed, rotate);
      PdfMaker pdf;
      page_with_font(pdf).rotate(rotate).content((reversed ? kReversing : "") + words_at(100, 900));
      pdf.save(folder / "page.pdf");
      CHECK(reads(folder, "page.pdf") == (reversed ? "wrong by text" : "right by text"));
    }
}

TEST_CASE("text in forms and in tiling patterns, under matrices that flip", "[program][reading]") {
  struct Case {
    char const *name, *matrix, *before, *reading;
  };
  auto const c = GENERATE(Case{"plain", "[1 0 0 1 0 0]", "", "right"}, Case{"its own matrix flips", "[-1 0 0 1 612 0]", "", "wrong"},
                          Case{"it stands on its head in a mirror", "[1 0 0 -1 0 1224]", "", "wrong"}, Case{"a half turn", "[-1 0 0 -1 612 1224]", "", "right"},
                          Case{"the page flips", "[1 0 0 1 0 0]", "-1 0 0 1 612 0 cm ", "wrong"},
                          Case{"page and matrix flip", "[-1 0 0 1 612 0]", "-1 0 0 1 612 0 cm ", "right"});
  CAPTURE(c.name);
  Folder folder;
  PdfMaker forms;
  auto const font = forms.font("Times-Roman");
  auto const form = forms.form("[0 0 612 1224]", words_at(100, 900), "/Matrix " + std::string(c.matrix) + " /Resources << /Font << /F " + font.text() + " >> >>");
  forms.page().media(kSheet).use("XObject", "X", form).content(std::string(c.before) + "/X Do");
  forms.save(folder / "form.pdf");
  CHECK(reads(folder, "form.pdf") == std::string(c.reading) + " by text");

  // A pattern starts from the page's own space (8.7.3.1), so what the page multiplies later does not reach it.
  PdfMaker tiles;
  auto const letters = tiles.font("Times-Roman");
  auto const pattern = tiles.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 180 60] /XStep 200 /YStep 70 /Matrix " +
                                        std::string(c.matrix) + " /Resources << /Font << /F " + letters.text() + " >> >>",
                                    words_at(5, 20, "Lanternwick", 24));
  tiles.page().media(kSheet).use("Pattern", "P", pattern).content(std::string(c.before) + "/Pattern cs /P scn 60 300 500 500 re f");
  tiles.save(folder / "tiles.pdf");
  bool const flips = std::string(c.matrix).find("[-1 0 0 1") == 0 || std::string(c.matrix).find("[1 0 0 -1") == 0;
  CHECK(reads(folder, "tiles.pdf") == (flips ? "wrong by text" : "right by text"));
}

TEST_CASE("text in a soft mask is not seen, and does not tell", "[program][reading]") {
  Folder folder;
  PdfMaker pdf;
  auto const font = pdf.font("Times-Roman");
  auto const group = pdf.form("[0 0 612 1224]", "1 g " + kReversing + words_at(100, 100), "/Group << /S /Transparency /CS /DeviceGray >> /Resources << /Font << /F " + font.text() + " >> >>");
  auto const state = pdf.object("<< /SMask << /Type /Mask /S /Luminosity /G " + group.text() + " >> >>");
  auto& page = page_with_font(pdf);
  page.use("ExtGState", "M", state).content("q /M gs 0 0 612 300 re f Q " + words_at(100, 900));
  pdf.save(folder / "mask.pdf");
  CHECK(reads(folder, "mask.pdf") == "right by text");
}

TEST_CASE("Type 3 fonts: only what is drawn counts, whatever matrix and procedures make of each other", "[program][reading]") {
  struct Case {
    char const *name, *matrix;
    bool reversed, upside_down;
    char const* reading;
  };
  auto const c = GENERATE(Case{"plain", "[0.001 0 0 0.001 0 0]", false, false, "right"}, Case{"the matrix flips", "[-0.001 0 0 0.001 0 0]", false, false, "wrong"},
                          Case{"the procedures draw it reversed", "[0.001 0 0 0.001 0 0]", true, false, "wrong"},
                          Case{"both, which undo each other", "[-0.001 0 0 0.001 0 0]", true, false, "right"},
                          Case{"y runs down in both", "[0.001 0 0 -0.001 0 0]", false, true, "right"},
                          Case{"y runs down in the matrix only", "[0.001 0 0 -0.001 0 0]", false, false, "wrong"});
  CAPTURE(c.name);
  Folder folder;
  for (bool page_reversed : {false, true}) {
    PdfMaker pdf;
    auto const font = type3(pdf, c.matrix, c.reversed, c.upside_down);
    pdf.page().media(kSheet).use("Font", "F", font).content((page_reversed ? kReversing : "") + "BT /F 40 Tf 100 900 Td (FLEZ7FEL) Tj ET");
    pdf.save(folder / "page.pdf");
    std::string const other = std::string(c.reading) == "right" ? "wrong" : "right";
    CHECK(reads(folder, "page.pdf") == (page_reversed ? other : c.reading) + " by text");
  }
}

TEST_CASE("an embedded font that draws its letters reversed is found out, or at least not believed", "[program][reading]") {
  Folder folder;
  auto const page = [&](bool reversed, bool rewound, std::vector<std::string> const& unicode, std::string const& operators) {
    PdfMaker pdf;
    auto const font = composite(pdf, reversed, rewound, "Identity-H", unicode);
    pdf.page().media(kSheet).use("Font", "F", font).content(operators);
    pdf.save(folder / "page.pdf");
    return reads(folder, "page.pdf");
  };
  for (bool rewound : {false, true}) {
    CAPTURE(rewound);
    CHECK(page(false, rewound, kLatin, kAllFive) == "right by text");
    CHECK(page(true, rewound, kLatin, kAllFive) == "wrong by text");
    CHECK(page(true, rewound, kLatin, kReversing + kAllFive) == "right by text");
  }
  // Letters of which nobody knows what they look like: they go by the matrix, unless their outlines run the wrong way round.
  CHECK(page(false, false, kHebrew, kAllFive) == "right by text");
  CHECK(page(false, false, kHebrew, kReversing + kAllFive) == "wrong by text");
  CHECK(page(true, false, kHebrew, kAllFive).find("right") == std::string::npos);
  CHECK(page(true, false, kHebrew, kReversing + kAllFive).find("wrong") == std::string::npos);
}

TEST_CASE("vertical writing is not reversed", "[program][reading]") {
  Folder folder;
  for (bool reversed : {false, true}) {
    PdfMaker pdf;
    auto const font = composite(pdf, false, false, "Identity-V", kLatin);
    pdf.page().media(kSheet).use("Font", "F", font).content((reversed ? kReversing : "") + kAllFive);
    pdf.save(folder / "page.pdf");
    CHECK(reads(folder, "page.pdf") == (reversed ? "wrong by text" : "right by text"));
  }
}

// Incoming four ways, the three parties, right, wrong and as-is asked: `check` and `lay` go by one rule. The file must read as the printed
// sheet, or the other way where somebody reverses later; `lay` reverses what reads the other way, and refuses what it cannot know.
TEST_CASE("every case of who reverses: check and lay say the same and end alike", "[program][reading]") {
  Folder folder;
  save(folder, "right.pdf", words_at(100, 900));
  save(folder, "wrong.pdf", kReversing + words_at(100, 900));
  save(folder, "mixed.pdf", words_at(100, 900) + kReversing + words_at(100, 500));
  save(folder, "unknown.pdf", "100 100 m 300 100 l 200 300 l f");
  std::string configuration = "[sheet.film]\nsize = \"8.5x17in\"\n";
  for (std::string party : {"file", "printer", "rip"})
    for (std::string wanted : {"right", "wrong", "as-is"})
      configuration += "[target." + wanted + "-" + party + "]\nsheet = \"film\"\nreading = \"" + wanted + "\"\nreverse-at = \"" + party + "\"\n";
  write_file(folder / "layright.toml", configuration);

  for (std::string incoming : {"right", "wrong", "mixed", "unknown"})
    for (std::string party : {"file", "printer", "rip"})
      for (std::string wanted : {"right", "wrong", "as-is"}) {
        CAPTURE(incoming, party, wanted);
        bool const asked = wanted != "as-is", known = incoming == "right" || incoming == "wrong";
        std::string const flipped = wanted == "right" ? "wrong" : "right", must = party == "file" ? wanted : flipped;
        bool const turns = asked && known && incoming != must, holds = asked && !known;
        std::string const source = incoming + ".pdf", target = wanted + "-" + party;
        std::filesystem::remove(folder / "laid.pdf");

        json const check = told(folder, "check", {source, "--target", target});
        CHECK(check["status"] == (holds ? 2 : turns ? 1 : 0));
        CHECK(check["reading"] == incoming);
        CHECK(finds(check, "reading.reverse") == turns);
        CHECK(finds(check, "reading.mixed") == (holds && incoming == "mixed"));
        CHECK(finds(check, "reading.none") == (holds && incoming == "unknown"));

        json const lay = told(folder, "lay", {source, "-o", "laid.pdf", "--target", target});
        CHECK(lay["status"] == (holds ? 2 : 0));
        CHECK(std::filesystem::exists(folder / "laid.pdf") == !holds);
        CHECK(lay.value("reading_sentence", "") == check.value("reading_sentence", ""));
        CHECK(check.contains("reading_sentence") == asked);
        CHECK(lay["placement"] == check["placement"]);
        if (holds) {
          CHECK(lay["placement"].is_null());
          continue;
        }
        CHECK(lay["placement"]["reversed"] == turns);

        json const laid = told(folder, "check", {"laid.pdf", "--target", target});
        CHECK(laid["status"] == 0);
        CHECK_FALSE(laid["placement"]["reversed"].get<bool>());
        if (!asked) continue;
        CHECK(laid["reading"] == must);
        CHECK(laid["reading_from"] == "record");
        // Without its record the page itself says the same.
        std::string bytes = read_file(folder / "laid.pdf");
        auto const at = bytes.find("/PieceInfo");
        REQUIRE(at != std::string::npos);
        bytes.replace(at, 10, "/OtherInfo");
        write_file(folder / "bare.pdf", bytes);
        json const bare = told(folder, "check", {"bare.pdf", "--target", target});
        CHECK(bare["reading"] == must);
        CHECK(bare["reading_from"] == "text");
        CHECK(bare["status"] == 0);
      }
}

TEST_CASE("a person's word against record and live text is held, and can be accepted", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", words_at(100, 900));
  std::vector<std::string> const wrong{"--reading", "wrong"};
  REQUIRE(layright(folder, {"lay", "art.pdf", "-o", "laid.pdf", "--reading", "wrong"}).status == 0);

  struct Case {
    std::string file, word;
    bool conflict;
  };
  for (auto const& c : std::vector<Case>{{"art.pdf", "right", false}, {"art.pdf", "wrong", true}, {"laid.pdf", "wrong", false}, {"laid.pdf", "right", true}}) {
    CAPTURE(c.file, c.word);
    json const check = told(folder, "check", {c.file, "--reading", "wrong", "--incoming", c.word});
    CHECK(finds(check, "reading.conflict") == c.conflict);
    CHECK(check["reading"] == c.word);
    CHECK(check["reading_from"] == "operator");
    if (c.conflict) CHECK(check["status"] == 2);
    std::filesystem::remove(folder / "out.pdf");
    json const lay = told(folder, "lay", {c.file, "-o", "out.pdf", "--reading", "wrong", "--incoming", c.word});
    CHECK(lay["status"] == (c.conflict ? 2 : 0));
    CHECK(std::filesystem::exists(folder / "out.pdf") == !c.conflict);
    if (!c.conflict) continue;
    CHECK(told(folder, "check", {c.file, "--reading", "wrong", "--incoming", c.word, "--accept", "reading.conflict"})["status"] != 2);
    CHECK(layright(folder, {"lay", c.file, "-o", "out.pdf", "--reading", "wrong", "--incoming", c.word, "--accept", "reading.conflict"}).status == 0);
  }
}

TEST_CASE("live text decides only for what it covers", "[program][reading]") {
  Folder folder;
  std::string const art = "q " + outlined() + "Q ", mirrored = "q " + kReversing + outlined() + "Q ", footer = "0 g " + words_at(200, 60, "Gastrel findery 2457", 10),
                    footer_back = "q " + kReversing + footer + "Q ", letter = words_at(300, 300, "R", 14);
  struct Case {
    std::string name, operators, reading;
  };
  std::vector<Case> const cases{{"a right footer over mirrored outlines", mirrored + footer, "mixed by letters"},
                                {"a mirrored footer under right art", art + footer_back, "mixed by letters"},
                                {"a lone letter over mirrored outlines", mirrored + letter, "mixed by letters"},
                                {"a right footer under right art", art + footer, "right by text"},
                                {"both mirrored", mirrored + footer_back, "wrong by text"},
                                {"a mirrored footer that is white on white", art + "1 g q " + kReversing + words_at(200, 60) + "Q ", "right by letters"},
                                {"a mirrored footer of no size", art + "q " + kReversing + words_at(200, 60, "Gastrel findery", 0) + "Q ", "right by letters"},
                                {"shapes that are no letters", footer + "100 100 m 300 100 l 200 300 l f 20 500 60 60 re f", "right by text"}};
  for (auto const& c : cases) {
    CAPTURE(c.name);
    save(folder, "page.pdf", c.operators);
    CHECK(reads(folder, "page.pdf") == c.reading);
  }
  save(folder, "page.pdf", cases[0].operators);
  json const page = told(folder, "check", {"page.pdf", "--reading", "wrong"});
  REQUIRE(finds(page, "reading.mixed"));
  CHECK(page["status"] == 2);
  for (auto const& f : page["findings"])
    if (f["check"] == "reading.mixed") {  // around both places: the footer at 60 pt, the outlines at 900 pt
      CHECK(f["where_pt"][1].get<double>() < 70);
      CHECK(f["where_pt"][3].get<double>() > 900);
    }
  json const& evidence = page["reading_evidence"];
  CHECK(evidence["text"]["right"] > 0);
  CHECK(evidence["text"]["wrong"] == 0);
  CHECK(page["reading_letters"] == "read");
  CHECK(evidence["letters"]["reading"] == "wrong");
  CHECK(evidence["letters"]["lines"][0]["evidence"] < 0);
  CHECK(evidence["letters"]["lines"][0]["wrong"]["words"][0] == "ELF");
}

TEST_CASE("the layer of text over a scan is a hint only", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", outlined());
  REQUIRE(run({"pdftoppm", "-r", "100", "-gray", "-singlefile", "art.pdf", "scan"}, folder.path()).status == 0);
  std::string const pgm = read_file(folder / "scan.pgm");
  std::size_t const pixels = 850 * 1700;
  REQUIRE(pgm.size() > pixels);
  for (bool mirrored : {false, true})
    for (char const* mode : {"3 Tr ", "1 g ", "7 Tr "}) {
      CAPTURE(mirrored, mode);
      PdfMaker pdf;
      auto const scan = pdf.stream("/Type /XObject /Subtype /Image /Width 850 /Height 1700 /ColorSpace /DeviceGray /BitsPerComponent 8", pgm.substr(pgm.size() - pixels));
      page_with_font(pdf).use("XObject", "I", scan).content(std::string("q ") + (mirrored ? kReversing : "") + "612 0 0 1224 0 0 cm /I Do Q q " + mode + words_at(60, mode[0] == '1' ? 500 : 900, "ELF FELL FEZ") + "Q");  // white: on the scan's white
      pdf.save(folder / "page.pdf");
      CHECK(reads(folder, "page.pdf") == (mirrored ? "wrong by letters" : "right by letters"));
    }
}

TEST_CASE("letters that nobody understood are set apart from nothing like letters", "[program][reading]") {
  Folder folder;
  save(folder, "shape.pdf", "100 100 m 300 100 l 200 300 l f");
  save(folder, "word.pdf", words_at(100, 700, "AVA", 60));  // reads the same in a mirror
  write_file(folder / "layright.toml", "[sheet.film]\nsize = \"8.5x17in\"\n[target.shirt]\nsheet = \"film\"\nreading = \"wrong\"\nunknown-reads = \"hold\"\nwithout-letters = \"right\"\n");
  json const shape = told(folder, "check", {"shape.pdf"}), letters = told(folder, "check", {"word.pdf"});
  CHECK(shape["reading_letters"] == "none");
  CHECK(shape["reading_from"] == "assumed");
  CHECK(finds(shape, "reading.none"));
  CHECK(shape["status"] == 1);
  CHECK(letters["reading_letters"] == "not understood");
  CHECK(letters["reading"] == "unknown");
  CHECK(finds(letters, "reading.unknown"));
  CHECK(letters["status"] == 2);
  CHECK(layright(folder, {"lay", "word.pdf", "-o", "laid.pdf"}).status == 2);
  CHECK(layright(folder, {"lay", "shape.pdf", "-o", "laid.pdf"}).status == 0);
}

TEST_CASE("--explain-reading draws the lines that were looked at", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", kReversing + outlined());
  for (std::string name : {"lines.png", "lines.svg", "lines.pdf"}) {
    CAPTURE(name);
    CHECK(layright(folder, {"check", "art.pdf", "--reading", "wrong", "--explain-reading", name}).status != 70);
    CHECK(std::filesystem::file_size(folder / name) > 2000);
  }
  auto const words = run({"pdftotext", "lines.pdf", "-"}, folder.path());
  CHECK(words.out.find("reads wrong (letters)") != std::string::npos);
  CHECK(words.out.find("speaks for wrong") != std::string::npos);
  CHECK(words.out.find("reversed: ELF") != std::string::npos);
  CHECK(layright(folder, {"check", "art.pdf", "--explain-reading", "lines.gif"}).status == 64);
  std::string const html = layright(folder, {"check", "art.pdf", "--reading", "wrong", "--format", "html"}).out;
  CHECK(html.find("The lines that were looked at") == std::string::npos);  // it is settled
}

TEST_CASE("letters are looked at against a person's word only when asked", "[program][reading]") {
  Folder folder;
  save(folder, "outlined.pdf", outlined());
  REQUIRE(reads(folder, "outlined.pdf") == "right by letters");
  for (std::string word : {"right", "wrong"}) {
    CAPTURE(word);
    std::vector<std::string> words{"outlined.pdf", "--reading", "wrong", "--incoming", word};
    CHECK_FALSE(finds(told(folder, "check", words), "reading.conflict"));
    words.push_back("--check-letters");
    CHECK(finds(told(folder, "check", words), "reading.conflict") == (word == "wrong"));
  }
}

TEST_CASE("what is taken for granted where nothing tells is told as assumed", "[program][reading]") {
  Folder folder;
  save(folder, "shape.pdf", "100 100 m 300 100 l 200 300 l f");
  for (std::string assumed : {"right", "wrong"}) {
    CAPTURE(assumed);
    write_file(folder / "layright.toml", "[sheet.film]\nsize = \"8.5x17in\"\n[target.shirt]\nsheet = \"film\"\nreading = \"wrong\"\nunknown-reads = \"" + assumed + "\"\n");
    json const page = told(folder, "check", {"shape.pdf"});
    CHECK(page["reading"] == assumed);
    CHECK(page["reading_from"] == "assumed");
    CHECK(finds(page, "reading.none"));  // one word for both, as before there were two
    CHECK(page["status"] == (assumed == "wrong" ? 0 : 1));
    std::filesystem::remove(folder / "laid.pdf");
    json const lay = told(folder, "lay", {"shape.pdf", "-o", "laid.pdf"});
    CHECK(lay["status"] == 0);
    CHECK(lay["placement"]["reversed"] == (assumed == "right"));
  }
}

TEST_CASE("a photograph whose tag asks for a mirror is told", "[program][reading]") {
  Folder folder;
  // 8 x 8 grey pixels (ITU-T T.81); the tag goes in after the first two bytes.
  auto const made = run({"gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=jpeggray", "-r72", "-g8x8", "-o", "grey.jpg", "-c", "0.4 setgray 0 0 8 8 rectfill showpage"}, folder.path());
  REQUIRE(made.status == 0);
  std::string const plain = read_file(folder / "grey.jpg");
  for (int tag : {0, 1, 2, 3, 4, 5, 6, 7, 8}) {
    CAPTURE(tag);
    std::string const exif = std::string("Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0", 25) + static_cast<char>(tag) + std::string("\0\0\0\0\0\0", 6);
    std::string const segment = std::string("\xFF\xE1\0", 3) + static_cast<char>(exif.size() + 2) + exif;
    PdfMaker pdf;
    auto const photograph = pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 8 /ColorSpace /DeviceGray /BitsPerComponent 8 /Filter /DCTDecode",
                                       plain.substr(0, 2) + (tag ? segment : "") + plain.substr(2));
    pdf.page().media(kSheet).use("XObject", "I", photograph).content("300 0 0 300 100 500 cm /I Do");
    pdf.save(folder / "photograph.pdf");
    bool const mirrors = tag == 2 || tag == 4 || tag == 5 || tag == 7;
    CHECK(finds(told(folder, "check", {"photograph.pdf"}), "image.orientation") == mirrors);
    CHECK(finds(told(folder, "check", {"photograph.pdf", "--only", "image.orientation"}), "image.orientation") == mirrors);
  }
}

TEST_CASE("the mistake of the README: reversed in the drawing program, and to be reversed by the printer as well", "[program][reading]") {
  Folder folder;
  PdfMaker pdf;
  page_with_font(pdf).content(kReversing + words_at(100, 900));
  pdf.catalog("ViewerPreferences", "<< /PrintScaling /None >>").save(folder / "reversed.pdf");
  write_file(folder / "layright.toml", "[sheet.film]\nsize = \"8.5x17in\"\n[target.shirt]\nsheet = \"film\"\nreading = \"wrong\"\nreverse-at = \"printer\"\n");
  std::string const readme = read_file(std::filesystem::path(LAYRIGHT_SOURCE) / "README.md");
  auto const start = readme.find("    $ layright check reversed.pdf --target shirt\n");
  REQUIRE(start != std::string::npos);
  auto const block = readme.substr(start, readme.find("\n\n", start) + 1 - start);
  auto const ran = layright(folder, {"check", "reversed.pdf", "--target", "shirt"});
  CHECK(ran.status == 1);
  std::string shown = block.substr(0, block.find('\n') + 1);
  for (std::size_t at = 0; at < ran.out.size(); at = ran.out.find('\n', at) + 1) shown += "    " + ran.out.substr(at, ran.out.find('\n', at) + 1 - at);
  CHECK(shown.substr(0, block.size()) == block);
  // Mended, it reads right in the file, and the printer's own reversal makes the sheet read wrong: once.
  REQUIRE(layright(folder, {"lay", "reversed.pdf", "-o", "laid.pdf", "--target", "shirt"}).status == 0);
  CHECK(layright(folder, {"check", "laid.pdf", "--target", "shirt"}).status == 0);
  CHECK(told(folder, "check", {"laid.pdf", "--target", "shirt"})["reading"] == "right");
}

}  // namespace layright::test
