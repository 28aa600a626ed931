// Which way pages read, asked of the program as a person asks: whatever can lie between a letter and the page. Expectations are worked out by
// hand from ISO 32000-1 (8.3.4, 9.2.4, 9.3, 9.4.4, 9.6.5, 9.7.4.3, 8.7.3).
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>

#include "command/reading_pages.h"
#include "support/tiny_font.h"

namespace layright::test {
namespace {

/// A composite font (ISO 32000-1, 9.7) of the glyphs E F L Z 7, which its ToUnicode names `first` and the four after it.
Ref composite(PdfMaker& pdf, bool reversed, bool rewound, std::string const& encoding, std::vector<std::string> const& unicode) {
  std::vector<Corners> glyphs;
  for (char letter : std::string("EFLZ7")) {
    glyphs.push_back(letter_corners(letter, reversed));
    if (rewound) std::ranges::reverse(glyphs.back());
  }
  auto const file = pdf.stream("", truetype_of(glyphs));
  auto const descriptor = pdf.object(
      "<< /Type /FontDescriptor /FontName /Tiny /Flags 4 /FontBBox [0 0 600 700] /ItalicAngle 0 /Ascent 800 /Descent -200 "
      "/CapHeight 700 /StemV 100 /FontFile2 " +
      file.text() + " >>");
  auto const descendant = pdf.object(
      "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Tiny /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) "
      "/Supplement 0 >> /DW 600 /CIDToGIDMap /Identity /FontDescriptor " +
      descriptor.text() + " >>");
  std::string names;
  for (std::size_t i = 0; i < unicode.size(); ++i) names += "<000" + std::to_string(i + 1) + "> <" + unicode[i] + ">\n";
  auto const to_unicode = pdf.stream("",
                                     "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /Tiny def /CMapType 2 def\n"
                                     "1 begincodespacerange <0000> <FFFF> endcodespacerange\n5 beginbfchar\n" +
                                         names + "endbfchar endcmap end end");
  return pdf.object("<< /Type /Font /Subtype /Type0 /BaseFont /Tiny /Encoding /" + encoding + " /DescendantFonts [" + descendant.text() +
                    "] /ToUnicode " + to_unicode.text() + " >>");
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
                    [] {
                      std::string w;
                      for (int i = 55; i <= 90; ++i) w += "600 ";
                      return w;
                    }() +
                    "] /Resources << >> >>");
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
      {"a page that begins with a flip, undone by the text's", "0.5 0 0 -0.5 0 1224 cm BT /F 60 Tf 1 0 0 -1 100 600 Tm (Lanternwick fog) Tj ET",
       "right"},
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
  auto const c =
      GENERATE(Case{"plain", "[1 0 0 1 0 0]", "", "right"}, Case{"its own matrix flips", "[-1 0 0 1 612 0]", "", "wrong"},
               Case{"it stands on its head in a mirror", "[1 0 0 -1 0 1224]", "", "wrong"}, Case{"a half turn", "[-1 0 0 -1 612 1224]", "", "right"},
               Case{"the page flips", "[1 0 0 1 0 0]", "-1 0 0 1 612 0 cm ", "wrong"},
               Case{"page and matrix flip", "[-1 0 0 1 612 0]", "-1 0 0 1 612 0 cm ", "right"});
  CAPTURE(c.name);
  Folder folder;
  PdfMaker forms;
  auto const font = forms.font("Times-Roman");
  auto const form =
      forms.form("[0 0 612 1224]", words_at(100, 900), "/Matrix " + std::string(c.matrix) + " /Resources << /Font << /F " + font.text() + " >> >>");
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
  auto const group = pdf.form("[0 0 612 1224]", "1 g " + kReversing + words_at(100, 100),
                              "/Group << /S /Transparency /CS /DeviceGray >> /Resources << /Font << /F " + font.text() + " >> >>");
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
  auto const c = GENERATE(Case{"plain", "[0.001 0 0 0.001 0 0]", false, false, "right"},
                          Case{"the matrix flips", "[-0.001 0 0 0.001 0 0]", false, false, "wrong"},
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

}  // namespace layright::test
