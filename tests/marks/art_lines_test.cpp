// How wide lines are drawn, and which of them show: ISO 32000-1, 8.4.3.2 (line width under the current matrix) and 8.5.3; text by 9.3.6.
// Widths are worked out by hand.
#include <cmath>

#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

namespace {

Marks art_of_page(std::string const& content) {
  PdfMaker pdf;
  pdf.page()
      .media("[0 0 400 300]")
      .use("Font", "F", pdf.font())
      .use("XObject", "P", pdf.image_rgb(1, 1, {9, 9, 9}))
      .use("ExtGState", "Half", "<< /ca 0.5 >>")
      .use("ExtGState", "Over", "<< /op true >>")
      .content(content);
  MarksWanted wanted;
  wanted.art = true;
  auto marks = marks_of(pdf, wanted);
  REQUIRE(marks.art);
  return marks;
}

}  // namespace

TEST_CASE("a line is as wide as it is drawn in its own direction, however the page is stretched") {
  struct Row {
    char const* what;
    char const* content;
    double width;
  };
  for (auto const& row : {
           Row{"across the stretch", "4 0 0 1 0 0 cm 0.2 w 20 50 m 20 250 l S", 0.8},
           Row{"along the stretch", "4 0 0 1 0 0 cm 0.2 w 20 50 m 80 50 l S", 0.2},
           Row{"both", "4 0 0 1 0 0 cm 0.2 w 20 50 m 20 250 l 80 250 l S", 0.2},
           Row{"the closing side", "4 0 0 1 0 0 cm 0.2 w 20 50 m 20 250 l 20 150 l s", 0.8},
           Row{"slanting at 45 degrees as drawn", "4 0 0 1 0 0 cm 0.2 w 20 50 m 45 150 l S", 0.8 * std::hypot(25, 100) / std::hypot(100, 100)},
           Row{"an upright curve", "4 0 0 1 0 0 cm 0.2 w 20 50 m 20 100 20 200 20 250 c S", 0.8},
           Row{"turned", "0.6 0.8 -0.8 0.6 200 50 cm 0.3 w 0 0 m 100 0 l S", 0.3},
           Row{"a turned bar", "0.6 0.8 -0.8 0.6 200 50 cm 0 0 100 0.4 re f", 0.4},
           Row{"a bar of four lines, closed", "100 50 m 170 120 l 169.8 120.2 l 99.8 50.2 l h f", 0.2 * std::sqrt(2)},
           Row{"a slanting bar", "1 0 1 1 0 0 cm 20 50 100 0.3 re f", 0.3},
       }) {
    CAPTURE(row.what);
    auto const marks = art_of_page(row.content);
    REQUIRE(marks.art->lines.least());
    CHECK(*marks.art->lines.least() == Approx(row.width).margin(0.002));
  }
}

TEST_CASE("turned squares, triangles and curved shapes are no lines") {
  for (auto const* content :
       {"0.6 0.8 -0.8 0.6 200 50 cm 0 0 2 2 re f", "100 50 m 170 120 l 100 50.3 l h f", "100 50 m 150 51 170 51 200 50 c h f"}) {
    CAPTURE(content);
    CHECK(!art_of_page(content).art->lines.least());
  }
}

TEST_CASE("thin outlines of letters are lines, but for those that only make a fill of the same colour bolder") {
  auto const width_of = [](std::string const& content) { return art_of_page(content).art->lines.least(); };
  CHECK(width_of("BT 1 Tr 0.1 w /F 60 Tf 50 50 Td (A) Tj ET") == Approx(0.1).margin(1e-3));
  CHECK(width_of("BT 2 Tr 1 0 0 rg 0 G 0.1 w /F 60 Tf 50 50 Td (A) Tj ET") == Approx(0.1).margin(1e-3));
  CHECK(!width_of("BT 2 Tr 0 g 0 G 0.1 w /F 60 Tf 50 50 Td (A) Tj ET"));
  CHECK(!width_of("BT 0 Tr 0.1 w /F 60 Tf 50 50 Td (A) Tj ET"));
  CHECK(!width_of("BT 3 Tr 0.1 w /F 60 Tf 50 50 Td (A) Tj ET"));
}

TEST_CASE("an em is as high as it is drawn, and no more than twice as wide") {
  struct Row {
    char const* matrix;
    double em;
  };
  // 1 0 0.3 1: slanted, as high as before
  for (auto const& row : {Row{"1 0 0 1 50 50", 12}, Row{"1 0 0 0.25 50 50", 3}, Row{"0.8 0 0 1 50 50", 12}, Row{"0.2 0 0 1 50 50", 4.8},
                          Row{"1 0 0.3 1 50 50", 12}, Row{"0 1 -1 0 50 50", 12}, Row{"3 0 0 1 50 50", 12}}) {
    CAPTURE(row.matrix);
    auto const marks = art_of_page(std::string("BT /F 12 Tf ") + row.matrix + " Tm (Small) Tj ET");
    CHECK(marks.art->text.least() == Approx(row.em).margin(0.01));
  }
}

TEST_CASE("lines, small text and fonts that other marks cover are not reported") {
  std::string const line = "0.1 w 50 50 m 150 100 l S ", text = "BT /F 5 Tf 50 60 Td (Small) Tj ET ";
  struct Row {
    char const* what;
    std::string over;
    bool covered;
  };
  for (auto const& row : {
           Row{"a block", "0.3 g 40 40 150 100 re f", true},
           Row{"a white block", "1 g 40 40 150 100 re f", true},
           Row{"a round block", "0.3 g 0 75 m 0 250 200 250 200 75 c 200 -100 0 -100 0 75 c h f", true},
           Row{"a picture", "q 150 0 0 100 40 40 cm /P Do Q", true},
           Row{"a block that covers part", "0.3 g 40 40 15 100 re f", false},
           Row{"a ring around it", "0.3 g 20 20 200 160 re 40 40 150 100 re f*", false},
           Row{"a clear block", "/Half gs 0.3 g 40 40 150 100 re f", false},
           Row{"a block that overprints", "/Over gs 0 0 0 0.3 k 40 40 150 100 re f", false},
           Row{"a block that is clipped away", "q 40 40 10 10 re W n 0.3 g 40 40 150 100 re f Q", false},
           Row{"a turned picture", "q 100 100 -100 100 100 0 cm /P Do Q", false},
           Row{"a block beneath", "", false},
       }) {
    CAPTURE(row.what);
    auto const marks = art_of_page(line + text + row.over);
    CHECK(marks.art->lines.least().has_value() != row.covered);
    CHECK(marks.art->text.least().has_value() != row.covered);
    CHECK(marks.art->fonts.empty() == row.covered);
  }
  auto const one_of_two = art_of_page(line + "200 200 m 300 210 l S 0.3 g 40 40 150 100 re f");
  REQUIRE(one_of_two.art->lines.entries().size() == 1);
  CHECK(one_of_two.art->lines.entries()[0].places.count == 1);
}
