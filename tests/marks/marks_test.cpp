// What else is told of a page's marks: frames, cut marks, what the crop hides, what cannot be read; and pages that mean harm.
// Values are computed by hand from the operators.
#include <cmath>
#include <ctime>

#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("marks: frames are told apart from what they go around") {
  struct Row {
    char const* name;
    char const* operators;
    std::size_t frames;
    double stroke = 1;
  };
  std::string const art = "100 100 200 300 re f ";
  Row const rows[] = {
      {"one rectangle", "1 w 18 18 576 756 re S", 1},
      {"a closed path", "1 w 18 18 m 594 18 l 594 774 l 18 774 l s", 1},
      {"four lines", "1 w 18 18 m 594 18 l S 594 18 m 594 774 l S 18 774 m 594 774 l S 18 18 m 18 774 l S", 1},
      {"four lines in one path", "1 w 18 18 m 594 18 l 594 18 m 594 774 l 594 774 m 18 774 l 18 774 m 18 18 l S", 1},
      {"three lines are none", "1 w 18 18 m 594 18 l S 594 18 m 594 774 l S 18 774 m 594 774 l S", 0},
      {"an open path is none", "1 w 18 18 m 594 18 l 594 774 l 18 774 l S", 0},
      {"a filled one is none", "1 w 0.5 g 18 18 576 756 re B", 0},
      {"a small one is none", "1 w 300 300 20 20 re S", 0},
      {"a thick one is none", "40 w 18 18 576 756 re S", 0},
      {"two, one in the other", "1 w 18 18 576 756 re S 9 9 594 774 re S", 2},
      {"one drawn under an uneven scale: its wider sides count", "q 2 0 0 0.5 0 0 cm 0.5 w 9 36 288 1512 re S Q", 1},
      {"four lines under an uneven scale",
       "q 2 0 0 0.5 0 0 cm 0.5 w 9 36 m 297 36 l S 297 36 m 297 1548 l S 9 1548 m 297 1548 l S 9 36 m 9 1548 l S Q", 1},
  };
  for (auto const& row : rows) {
    INFO(row.name);
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", art + row.operators));
    REQUIRE(marks.frames.size() == row.frames);
    REQUIRE(marks.ink);
    if (row.frames == 0) continue;
    auto const& frame = marks.frames[0];
    CHECK(std::fabs(frame.middle.x0 - 18) < 0.01);
    CHECK(std::fabs(frame.middle.y1 - 774) < 0.01);
    CHECK(std::fabs(frame.stroke - row.stroke) < 0.01);
    REQUIRE(frame.other_ink);
    if (row.frames == 1) {
      CHECK(std::fabs(frame.other_ink->x0 - 100) < 0.02);
      CHECK(std::fabs(frame.other_ink->y1 - 400) < 0.02);
      CHECK(std::fabs(marks.ink->x0 - 17.5) < 0.02);  // the frame is ink too
    }
  }
}

TEST_CASE("marks: what passes the edge of what is seen") {
  SECTION("a ground that runs off") {
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", "0.5 g -9 -9 630 810 re f"));
    REQUIRE(marks.cut.size() == 1);
    CHECK(marks.cut[0].flat_ground);
    CHECK(std::fabs(marks.cut[0].beyond - 9) < 0.01);
    CHECK(std::fabs(marks.cut[0].whole.x0 + 9) < 0.01);
  }
  SECTION("a line of text is one mark") {
    PdfMaker pdf;
    pdf.page().use("Font", "F", pdf.font()).content("BT /F 40 Tf 500 300 Td (Lantern light) Tj ET");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.cut.size() == 1);
    CHECK_FALSE(marks.cut[0].flat_ground);
    CHECK(marks.cut[0].beyond > 50);
  }
  SECTION("a clip of its own keeps a mark inside") {
    CHECK(marks_of(one_page_pdf("[0 0 612 792]", "0 0 612 792 re W n 0.5 g -9 -9 630 810 re f")).cut.empty());
  }
  SECTION("white that runs off does not matter") { CHECK(marks_of(one_page_pdf("[0 0 612 792]", "1 g -9 -9 630 810 re f")).cut.empty()); }
  SECTION("what the crop box hides") {
    PdfMaker pdf;
    pdf.page().crop("[100 100 500 700]").content("10 10 20 20 re f 200 200 50 50 re f");
    auto const marks = marks_of(pdf);
    CHECK(marks.hidden_by_crop);
    CHECK(marks.cut.empty());
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x0 - 100) < 0.01);
  }
  SECTION("at most so many, the farthest first") {
    std::string operators;
    for (int i = 1; i <= 60; ++i) operators += std::to_string(-i) + " " + std::to_string(i * 10) + " 80 5 re f ";
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", operators));
    REQUIRE(marks.cut.size() == kMostCuts);
    CHECK(std::fabs(marks.cut.front().beyond - 60) < 0.01);
    CHECK(std::fabs(marks.cut.back().beyond - 41) < 0.01);
  }
}

TEST_CASE("marks: annotations as they print") {
  PdfMaker pdf;
  auto& page = pdf.page();
  SECTION("the border of a link that prints lies along its rectangle") {
    page.annotation("/Type /Annot /Subtype /Link /Rect [100 100 200 150] /F 4 /Border [0 0 4]");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x0 - 98) < 0.01);
    CHECK(std::fabs(marks.ink->y1 - 152) < 0.01);
  }
  SECTION("also where it has an appearance with nothing in it, as poppler and Ghostscript draw it") {
    page.annotation("/Type /Annot /Subtype /Link /Rect [100 100 200 150] /F 4 /Border [0 0 4] /AP << /N " + pdf.form("[0 0 100 50]", " ").text() +
                    " >>");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x0 - 98) < 0.01);
  }
  SECTION("not without the flag, nor without a width") {
    page.annotation("/Type /Annot /Subtype /Link /Rect [100 100 200 150] /Border [0 0 4]");
    page.annotation("/Type /Annot /Subtype /Link /Rect [100 100 200 150] /F 4 /Border [0 0 0]");
    CHECK_FALSE(marks_of(pdf).ink);
  }
  SECTION("an unsigned signature field does not print") {
    auto const field = pdf.object("<< /Type /Annot /Subtype /Widget /FT /Sig /T (Sign) /Rect [100 100 200 150] /F 4 >>");
    page.entry("Annots", "[" + field.text() + "]");
    pdf.catalog("AcroForm", "<< /Fields [" + field.text() + "] >>");
    CHECK_FALSE(marks_of(pdf).ink);
  }
  SECTION("a stamp with the Print flag does, without it does not") {
    auto const stamp = pdf.form("[0 0 10 10]", "0 0 10 10 re f");
    auto const entries = "/Type /Annot /Subtype /Stamp /AP << /N " + stamp.text() + " >> ";
    page.annotation(entries + "/Rect [100 100 120 120] /F 4").annotation(entries + "/Rect [300 300 320 320] /F 0");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x1 - 120) < 0.01);
  }
  SECTION("layers in their print state") {
    auto const off = pdf.object("<< /Type /OCG /Name (Guide) /Usage << /Print << /PrintState /OFF >> >> >>");
    pdf.catalog("OCProperties", "<< /OCGs [" + off.text() + "] /D << /OFF [" + off.text() + "] >> >>");
    page.use("Properties", "L", off).content("/OC /L BDC 0 0 300 300 re f EMC 400 400 20 20 re f");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x0 - 400) < 0.01);
  }
}

TEST_CASE("marks: a page that means harm is stopped or told") {
  PdfMaker pdf;
  auto& page = pdf.page();
  auto const timed = [&] {
    auto const start = std::clock();  // of processor time, as the limit
    MarksWanted wanted;
    wanted.seconds = 0.5;
    auto const marks = marks_of(pdf, wanted);
    CHECK(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC < 10);
    return marks;
  };
  SECTION("a Type 3 font that draws itself") {
    auto const font = pdf.reserve();
    auto const glyph = pdf.stream("", "1000 0 d0 BT /F 0.9 Tf (a) Tj ET 0 0 300 300 re f");
    pdf.fill(font,
             "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /CharProcs << /a " + glyph.text() +
                 " >> /Encoding << /Type /Encoding /Differences [97 /a] >> /FirstChar 97 /LastChar 97 /Widths [1000] /Resources << /Font << /F " +
                 font.text() + " >> >> >>");
    page.use("Font", "F", font).content("BT /F 50 Tf 100 100 Td (aaa) Tj ET");
    timed();
  }
  SECTION("forms in forms in forms") {
    Ref inner = pdf.form("[0 0 612 792]", "0 0 1 1 re f");
    for (int i = 0; i < 12; ++i)
      inner = pdf.form("[0 0 612 792]", "/X Do /X Do /X Do /X Do /X Do /X Do", "/Resources << /XObject << /X " + inner.text() + " >> >>");
    page.use("XObject", "X", inner).content("/X Do");
    auto const marks = timed();
    CHECK(marks.out_of_time);
    CHECK_FALSE(marks.whole);
  }
  SECTION("pictures of absurd sizes") {
    auto const huge = pdf.stream("/Type /XObject /Subtype /Image /Width 2000000 /Height 2000000 /BitsPerComponent 1 /ColorSpace /DeviceGray", "x");
    page.use("XObject", "I", huge).content("q 100 0 0 100 100 100 cm /I Do Q");
    auto const marks = timed();
    CHECK_FALSE(marks.whole);
  }
  SECTION("a picture without width, a shading and a colour space that are none: what comes after them is read") {
    auto const picture = pdf.stream("/Type /XObject /Subtype /Image /Width /Height /BitsPerComponent 8 /ColorSpace /DeviceGray", "xxxx");
    page.use("XObject", "I", picture).use("Shading", "S", "<< /ShadingType 99 >>").use("ColorSpace", "C", "[ /ICCBased 3 ]");
    page.content("100 100 10 10 re f /I Do 200 100 10 10 re f /S sh 300 100 10 10 re f /C cs 400 100 10 10 re f");
    auto const marks = timed();
    CHECK_FALSE(marks.whole);
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x0 - 100) < 0.01);
    CHECK(std::fabs(marks.ink->x1 - 410) < 0.01);
  }
  SECTION("a form that names what only the page has") {
    auto const dot = pdf.form("[0 0 10 10]", "0 0 10 10 re f");
    auto const form = pdf.form("[0 0 612 792]", "q 1 0 0 1 300 300 cm /Dot Do Q", "/Resources << /XObject << >> >>");
    page.use("XObject", "Dot", dot).use("XObject", "Form", form).content("100 100 10 10 re f /Form Do");
    auto const marks = timed();
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x1 - 310) < 0.01);
  }
  SECTION("nothing that can be read: it may leave ink anywhere") {
    page.content("1e7 ] ] >> ( /q");
    auto const marks = timed();
    CHECK_FALSE(marks.whole);
    CHECK_FALSE(marks.ink_known);
    REQUIRE(marks.ink);
    CHECK(marks.ink->width() == 612);
  }
  SECTION("instructions that are none") {
    page.content("0 0 10 10 re f ] ] >> 0 0 20 20 re f");
    auto const marks = timed();
    CHECK_FALSE(marks.whole);
    CHECK_FALSE(marks.trouble.empty());
  }
  SECTION("a unit that is none: 1 is taken") {
    for (char const* unit : {"0", "-2", "(x)"}) {
      PdfMaker odd;
      odd.page().user_unit(unit).content("100 100 200 50 re f");
      auto const marks = marks_of(odd);
      INFO(unit << ": " << marks.trouble);
      CHECK(marks.whole);
      REQUIRE(marks.ink);
      CHECK(std::fabs(marks.ink->x1 - 300) < 0.01);
    }
  }
  SECTION("numbers beyond all bounds") {
    page.content("1e38 0 0 1e38 0 0 cm 1e38 1e38 1e38 1e38 re f 1e30 w 0 0 m 1e30 1e30 l S");
    auto const marks = timed();
    if (marks.ink) CHECK(marks.ink->finite());
  }
  SECTION("more restores than saves, clips left open") {
    page.content("Q Q Q 0 0 20 20 re W n q q q 0 0 100 100 re f");
    auto const marks = timed();
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->x1 - 20) < 0.01);
  }
}

TEST_CASE("marks: many pages leave little behind") {
  PdfMaker pdf;
  auto const font = pdf.font();
  for (int i = 0; i < 200; ++i) pdf.page().use("Font", "F", font).content("BT /F 12 Tf 100 " + std::to_string(100 + i) + " Td (page) Tj ET");
  auto const bytes = pdf.bytes();
  auto const opened = open_for_marks(bytes);
  CHECK(opened.reader->page_count() == 200);
  for (int n = 1; n <= 200; ++n) {
    auto const marks = opened.reader->read(opened.document->page(n), {});
    REQUIRE(marks.ink);
    CHECK(std::fabs(marks.ink->y0 - (99 + n)) < 4);  // descenders of a 12 pt font; each page has its own place
  }
}

TEST_CASE("marks: what is no PDF, or locked, is told in plain words") {
  std::string const nothing = "this is not a PDF";
  auto const reader = MarksReader::open(bytes_of(nothing), "");
  CHECK_FALSE(reader.has_value());
  if (!reader) CHECK_FALSE(reader.error().message.empty());
  CHECK_FALSE(MarksReader::open({}, "").has_value());
}
