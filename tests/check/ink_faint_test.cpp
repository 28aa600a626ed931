// ink.faint: a tint that nobody sees on a screen (common practice, no published source: tints up to 20 % on a quarter of the extents).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

/// /G thins what it is set for, /H ends that.
ArtPage page_thinned(std::string const& content, std::string const& thinned = "1") {
  PdfMaker pdf;
  pdf.page().use("ExtGState", "G", "<< /ca " + thinned + " >>").use("ExtGState", "H", "<< /ca 1 >>").content(content);
  return ArtPage(pdf);
}

std::string const kMark = " 0 g 150 150 50 50 re f";

}  // namespace

TEST_CASE("ink.faint tells a tint over the art, in any separation") {
  for (char const* tint : {"0.05 0 0 0 k", "0 0 0.03 0 k", "0.97 g", "1 1 0.95 rg", "0 0.005 0 0 k"}) {
    INFO(tint);
    auto const f = page_thinned(tint + std::string(" 0 0 612 792 re f") + kMark).finding("ink.faint");
    CHECK_THAT(f.message, Contains("all of the art") && Contains("box on the goods"));
    CHECK(number(f.measured, "share_pct") > 95);
  }
  CHECK(number(page_thinned("0.96 g 0 0 612 792 re f" + kMark).finding("ink.faint").measured, "tint_pct") == Approx(4).margin(0.1));
}

TEST_CASE("ink.faint is silent where there is white, or the tint is strong, small, covered, or too faint for the press") {
  CHECK(page_thinned("1 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(page_thinned("0.7 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(page_thinned("0.997 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(page_thinned("0.96 g 0 0 612 792 re f 1 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(page_thinned("0.96 g 0 0 612 792 re f 0.2 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(page_thinned("0.96 g 100 100 100 100 re f 0 g 20 20 570 5 re 20 760 570 5 re f").silent("ink.faint"));
}

TEST_CASE("ink.faint adds up what lies on each other, and takes other forms than boxes") {
  std::string stack = "/G gs 0 g";
  for (int i = 0; i < 10; ++i) stack += " 20 20 560 750 re f";
  auto const f = page_thinned(stack + " /H gs" + kMark, "0.018").finding("ink.faint");
  CHECK(number(f.measured, "tint_pct") == Approx(100 * (1 - std::pow(1 - 0.018, 10))).margin(0.3));  // ISO 32000-1, 11.3.3
  CHECK(page_thinned("0.95 g 306 20 m 600 396 l 306 770 l 10 396 l f" + kMark).findings("ink.faint").size() == 1);
  // A tenth of its box is no quarter of the extents.
  CHECK(page_thinned("0.95 g 10 10 m 60 10 l 600 780 l 550 780 l f" + kMark).silent("ink.faint"));
}

TEST_CASE("ink.faint sees what is multiplied, patterns, and pictures through soft masks") {
  PdfMaker pdf;
  std::string const rows(40 * 40, '\x00'), pale(40 * 40, '\x0A');  // black; a mask that lets 10 of 255 through
  std::string fading(40 * 40, '\x00');
  for (std::size_t y = 4; y < 36; ++y)
    for (std::size_t x = 4; x < 36; ++x) fading[y * 40 + x] = '\x0A';
  auto const mask = [&](std::string const& samples) {
    return pdf.stream("/Type /XObject /Subtype /Image /Width 40 /Height 40 /ColorSpace /DeviceGray /BitsPerComponent 8", samples).text();
  };
  auto const shadow = [&](std::string const& samples) {
    return pdf.stream("/Type /XObject /Subtype /Image /Width 40 /Height 40 /ColorSpace /DeviceGray /BitsPerComponent 8 /SMask " + mask(samples),
                      rows);
  };
  auto const cell = [&](std::string const& entries, std::string const& content) {
    return pdf.stream("/PatternType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >> " + entries, content);
  };
  auto const all = shadow(pale), soft = shadow(fading), faint = cell("/PaintType 1", "0.95 g 0 0 10 10 re f"),
             striped = cell("/PaintType 1", "0.9 g 0 0 10 5 re f"), strong = cell("/PaintType 1", "0 g 0 0 10 9 re f"),
             uncoloured = cell("/PaintType 2", "0 0 10 10 re f");
  struct Row {
    char const* content;
    double tint;  // in percent, by hand; 0: silent
  };
  Row const list[] = {{"q 600 0 0 780 5 5 cm /All Do Q", 100.0 * 10 / 255},
                      {"q 600 0 0 780 5 5 cm /Soft Do Q", 0},
                      {"0.98 g 5 5 600 780 re f q 600 0 0 780 5 5 cm /All Do Q", 5.8},               // 1 - 0.98 (1 - 10 / 255)
                      {"q /M gs 0.98 g 5 5 600 780 re f 5 5 600 780 re f 5 5 600 780 re f Q", 5.9},  // 1 - 0.98 ^ 3
                      {"0.98 g 5 5 600 780 re f 5 5 600 780 re f 5 5 600 780 re f", 2},
                      {"/Pattern cs /Faint scn 5 5 600 780 re f", 5},
                      {"/Pattern cs /Striped scn 5 5 600 780 re f", 5},
                      {"/Pattern cs /Strong scn 5 5 600 780 re f", 0},
                      {"/CP cs 0.04 /Plain scn 5 5 600 780 re f", 4}};
  for (auto const& row : list) {
    INFO(row.content);
    PdfMaker made = pdf;
    made.page()
        .use("XObject", "All", all)
        .use("XObject", "Soft", soft)
        .use("Pattern", "Faint", faint)
        .use("Pattern", "Striped", striped)
        .use("Pattern", "Strong", strong)
        .use("Pattern", "Plain", uncoloured)
        .use("ExtGState", "M", "<< /BM /Multiply >>")
        .use("ColorSpace", "CP", "[/Pattern [/Separation /Teal /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [1 0 0 0] /N 1 >>]]")
        .content(row.content + kMark);
    ArtPage const page(made);
    if (row.tint == 0) CHECK(page.silent("ink.faint"));
    else CHECK(number(page.finding("ink.faint").measured, "tint_pct") == Approx(row.tint).margin(0.3));
  }
}

TEST_CASE("page.ground tells faint grounds and those that let something shine through") {
  CHECK_THAT(page_thinned("0.05 0 0 0 k 0 0 612 792 re f" + kMark).finding("page.ground").message, Contains("coloured"));
  CHECK_THAT(page_thinned("/G gs 0 g 0 0 612 792 re f" + kMark, "0.2").finding("page.ground").message, Contains("coloured"));
}
