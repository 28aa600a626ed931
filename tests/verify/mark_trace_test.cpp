// A laid page is proved against its source mark by mark: what laying adds is passed over, what anybody changed is noticed.
// The laid pages here are made by hand as ISO 32000-1 lets a page be put on another: one form, one matrix, one clip by its BBox.
#include <cstdio>
#include <functional>

#include "marks/page_reading.h"
#include "verify/mark_trace.h"
#include "verify/trace_recorder.h"

using namespace layright;
using namespace layright::test;

namespace {

/// Adds a page's resources to a maker and tells them as the text of a resource dictionary.
using Resources = std::function<std::string(PdfMaker&)>;

struct Art {
  std::string operators;
  Resources resources = [](PdfMaker&) { return std::string("<< >>"); };
  std::string group = "";  // of the page, as text, or empty
};

constexpr char kMedia[] = "[0 0 300 400]";

std::string source_of(Art const& art) {
  PdfMaker pdf;
  auto const resources = art.resources(pdf);
  auto& page = pdf.page().media(kMedia).without_resources().entry("Resources", resources).content(art.operators);
  if (!art.group.empty()) page.entry("Group", art.group);
  return pdf.bytes();
}

/// Reversed, at 1.2 of its size, moved: what the placement below says.
constexpr char kMatrix[] = "-1.2 0 0 1.2 500 60";
Matrix<SeenSpace, SheetSpace> const kPlacement{-1.2, 0, 0, 1.2, 500, 60};

std::string laid_of(Art const& art, std::string const& matrix = kMatrix, std::string const& box = kMedia) {
  PdfMaker pdf;
  auto const resources = art.resources(pdf);
  auto const group = art.group.empty() ? "" : " /Group " + art.group;
  auto const form = pdf.form(box, art.operators, "/Resources " + resources + group);
  auto& page = pdf.page().media("[0 0 612 1224]").use("XObject", "Fm0", form).content("q " + matrix + " cm\n/Fm0 Do\nQ\n");
  if (!art.group.empty()) page.entry("Group", art.group);
  return pdf.bytes();
}

std::optional<std::string> difference(std::string const& source, std::string const& laid, Matrix<SeenSpace, SheetSpace> const& placement = kPlacement,
                                      bool whole = true, std::optional<Rect<SeenSpace>> const& cut = {},
                                      std::optional<Rect<SheetSpace>> const& beside = {}) {
  std::FILE* file = std::tmpfile();
  REQUIRE(file);
  TraceWriter writer(file);
  MarksWanted wanted;
  TraceRecorder written(writer);
  wanted.also = &written;
  CHECK(marks_of(source, wanted).whole == whole);
  CHECK_FALSE(writer.failed());
  std::rewind(file);
  TraceComparer comparer(file);
  comparer.expect(placement, cut, beside);
  wanted = {};
  wanted.ink = wanted.images = wanted.frames = wanted.cut = false;
  TraceRecorder compared(comparer);
  wanted.also = &compared;
  CHECK(marks_of(laid, wanted).whole == whole);
  std::fclose(file);
  return comparer.difference();
}

std::string const kText = "BT /F 24 Tf 40 300 Td (Lantern) Tj ET ";
Resources const kFont = [](PdfMaker& pdf) { return "<< /Font << /F " + pdf.font().text() + " >> >>"; };

std::string with_image(PdfMaker& pdf, std::vector<std::uint8_t> const& samples) {
  return "<< /XObject << /I " + pdf.image_rgb(2, 1, samples).text() + " >> >>";
}

}  // namespace

TEST_CASE("tape: a laid page shows what its source shows") {
  struct Named {
    char const* name;
    Art art;
  };
  Resources const pattern = [](PdfMaker& pdf) {
    auto const tile = pdf.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 20 20] /XStep 22 /YStep 26 /Resources << >>",
                                 "0.9 0.2 0 rg 0 0 6 20 re f");
    return "<< /Pattern << /P " + tile.text() + " >> >>";
  };
  Resources const type3 = [](PdfMaker& pdf) {
    auto const flag = pdf.stream("", "700 0 d0 0.9 0.3 0 rg 0 0 200 600 re f");
    auto const pole = pdf.stream("", "700 0 0 0 600 600 d1 0 0 600 100 re f");
    auto const font = pdf.object("<< /Type /Font /Subtype /Type3 /FontBBox [0 0 700 700] /FontMatrix [0.001 0 0 0.001 0 0] /CharProcs << /a " +
                                 flag.text() + " /b " + pole.text() +
                                 " >> /Encoding << /Type /Encoding /Differences [97 /a /b] >> "
                                 "/FirstChar 97 /LastChar 98 /Widths [700 700] /Resources << >> >>");
    return "<< /Font << /F " + font.text() + " >> >>";
  };
  Resources const blends = [](PdfMaker& pdf) {
    auto const mask = pdf.form("[0 0 300 400]", "0.5 g 40 40 100 100 re f", "/Group << /S /Transparency /CS /DeviceGray >> /Resources << >>");
    return "<< /ExtGState << /M << /BM /Multiply >> /S << /SMask << /Type /Mask /S /Luminosity /G " + mask.text() + " >> >> >> >>";
  };
  std::string const group = "<< /S /Transparency /CS /DeviceRGB /I true >>";
  Named const rows[] = {
      {"text", {kText, kFont}},
      {"paths, strokes, dashes, clips", {"q 10 10 200 200 re W n 3 w [4 2] 0 d 1 0 0 RG 0 0 m 300 400 l S Q 0 0 1 rg 50 50 20 20 re f"}},
      {"a picture",
       {"q 100 0 0 50 40 40 cm /I Do Q",
        [](PdfMaker& pdf) {
          return with_image(pdf, {255, 0, 0, 0, 0, 255});
        }}},
      {"a pattern", {"/Pattern cs /P scn 40 60 170 90 re f", pattern}},
      {"a pattern whose one cell just fills the area", {"/Pattern cs /P scn 0 0 22 26 re f", pattern}},
      {"a Type 3 font", {"0 0 1 rg BT /F 70 Tf 40 120 Td (abab) Tj ET", type3}},
      {"blend modes and soft masks in a group", {"/M gs 1 0 0 rg 40 40 100 100 re f /S gs 60 60 100 100 re f", blends, group}},
      {"blend modes without a group", {"/M gs 1 0 0 rg 40 40 100 100 re f", blends}},
      {"nothing at all", {" "}},
  };
  for (auto const& row : rows) {
    INFO(row.name);
    auto const d = difference(source_of(row.art), laid_of(row.art));
    INFO(d.value_or("none"));
    CHECK_FALSE(d.has_value());
  }
}

TEST_CASE("tape: a page that shows a part of its source shows that part, and beside it only what may be there") {
  Resources const pattern = [](PdfMaker& pdf) {
    auto const tile = pdf.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 20 20] /XStep 22 /YStep 26 /Resources << >>",
                                 "0.9 0.2 0 rg 0 0 6 20 re f");
    return "<< /Pattern << /P " + tile.text() + " >> >>";
  };
  Art const arts[] = {{kText, kFont},
                      {"q 10 10 200 200 re W n 0 0 1 rg 50 50 20 20 re f Q 1 0 0 rg 200 300 90 90 re f"},
                      {"/Pattern cs /P scn 10 10 280 380 re f", pattern},
                      {kText, kFont, "<< /S /Transparency /CS /DeviceRGB /I true >>"}};
  Rect<SeenSpace> const cut{30, 100, 200, 320};
  Rect<SheetSpace> const beside{18, 18, 594, 1206};
  std::string const clip = "30 100 170 220 re W n\n", marks = "0 G 0.5 w 470 460 m 470 470 l S\n";
  auto const laid = [](Art const& art, std::string const& before, std::string const& after) {
    PdfMaker pdf;
    auto const resources = art.resources(pdf);
    auto const group = art.group.empty() ? "" : " /Group " + art.group;
    auto const form = pdf.form(kMedia, art.operators, "/Resources " + resources + group);
    auto& page = pdf.page()
                     .media("[0 0 612 1224]")
                     .use("XObject", "Fm0", form)
                     .content("q q " + std::string(kMatrix) + " cm\n" + before + "/Fm0 Do\nQ\n" + after + "Q\n");
    if (!art.group.empty()) page.entry("Group", art.group);
    return pdf.bytes();
  };
  for (auto const& art : arts) {
    INFO(art.operators);
    auto const source = source_of(art);
    auto const differs = [&](std::string const& before, std::string const& after, std::optional<Rect<SheetSpace>> const& may = {}) {
      return difference(source, laid(art, before, after), kPlacement, true, cut, may).has_value();
    };
    auto const same = difference(source, laid(art, clip, ""), kPlacement, true, cut);
    INFO(same.value_or("none"));
    CHECK_FALSE(same.has_value());
    CHECK_FALSE(differs(clip, marks, beside));
    CHECK(differs(clip, marks));                                          // nobody said that there may be any
    CHECK(differs("", ""));                                               // all of the source
    CHECK(differs("30 100 170 219 re W n\n", ""));                        // another part
    CHECK(differs("30 100 m 200 100 l 200 320 l W n\n", ""));             // of another shape
    CHECK(differs(clip, "0 G 300 300 m 310 310 l S\n", beside));          // on the art
    CHECK(differs(clip, "0 G 470 5 m 470 30 l S\n", beside));             // in the margin
    CHECK(differs(clip, "q 0 0 10 10 re W n 0 0 5 5 re f Q\n", beside));  // more than marks
    CHECK(differs(clip + "1 0 0 1 0 2 cm\n", ""));                        // moved
    CHECK(difference(source, laid(art, clip, "")).has_value());           // a part, where all was meant
  }
}

TEST_CASE("tape: what was changed is noticed") {
  Art const text{kText, kFont};
  Art const boxes{"1 0 0 rg 10 10 50 50 re f 0 0 1 rg 100 100 50 50 re f"};
  SECTION("the matrix, off by a tenth of a point") {
    auto const d = difference(source_of(text), laid_of(text, "-1.2 0 0 1.2 500.1 60"));
    REQUIRE(d.has_value());
    CHECK(difference(source_of(boxes), laid_of(boxes, "-1.2 0 0 1.2 500 59.9")).has_value());
    CHECK(difference(source_of(boxes), laid_of(boxes, "-1.2003 0 0 1.2 500 60")).has_value());
  }
  SECTION("not reversed") { CHECK(difference(source_of(text), laid_of(text, "1.2 0 0 1.2 140 60")).has_value()); }
  SECTION("a glyph less") { CHECK(difference(source_of(text), laid_of({"BT /F 24 Tf 40 300 Td (Lanter) Tj ET ", kFont})).has_value()); }
  SECTION("another glyph") { CHECK(difference(source_of(text), laid_of({"BT /F 24 Tf 40 300 Td (Lantorn) Tj ET ", kFont})).has_value()); }
  SECTION("another font") {
    Resources const other = [](PdfMaker& pdf) { return "<< /Font << /F " + pdf.font("Times-Roman").text() + " >> >>"; };
    CHECK(difference(source_of(text), laid_of({kText, other})).has_value());
  }
  SECTION("a colour") { CHECK(difference(source_of(boxes), laid_of({"1 0 0 rg 10 10 50 50 re f 0 0.01 1 rg 100 100 50 50 re f"})).has_value()); }
  SECTION("a clip taken away") {
    Art const clipped{"10 10 30 30 re W n " + boxes.operators};
    CHECK_FALSE(difference(source_of(clipped), laid_of(clipped)).has_value());
    CHECK(difference(source_of(clipped), laid_of(boxes)).has_value());
  }
  SECTION("the clip to the page's edge, wider than the page") {
    CHECK(difference(source_of(boxes), laid_of(boxes, kMatrix, "[-5 0 300 400]")).has_value());
  }
  SECTION("another picture of the same size") {
    std::string const draw = "q 100 0 0 50 40 40 cm /I Do Q";
    Art const one{draw, [](PdfMaker& pdf) { return with_image(pdf, {255, 0, 0, 0, 0, 255}); }};
    Art const other{draw, [](PdfMaker& pdf) { return with_image(pdf, {255, 0, 0, 0, 1, 255}); }};
    CHECK_FALSE(difference(source_of(one), laid_of(one)).has_value());
    CHECK(difference(source_of(one), laid_of(other)).has_value());
  }
  SECTION("marks in another order") {
    CHECK(difference(source_of(boxes), laid_of({"0 0 1 rg 100 100 50 50 re f 1 0 0 rg 10 10 50 50 re f"})).has_value());
  }
  SECTION("a mark more, a mark less") {
    CHECK(difference(source_of(boxes), laid_of({boxes.operators + " 1 1 2 2 re f"})).has_value());
    CHECK(difference(source_of(boxes), laid_of({"1 0 0 rg 10 10 50 50 re f"})).has_value());
  }
  SECTION("a mark beside the form") {
    PdfMaker pdf;
    auto const form = pdf.form(kMedia, boxes.operators, "/Resources << >>");
    pdf.page().media("[0 0 612 1224]").use("XObject", "Fm0", form).content(std::string("q ") + kMatrix + " cm /Fm0 Do Q 0 0 9 9 re f");
    CHECK(difference(source_of(boxes), pdf.bytes()).has_value());
  }
  SECTION("a stroke's width, a dash, a rule of filling") {
    Art const star{"0 0 m 100 0 l 20 80 l 50 -30 l 80 80 l h f"}, stroke{"[3 2] 0 d 2 w 0 0 m 100 100 l S"};
    CHECK(difference(source_of(star), laid_of({"0 0 m 100 0 l 20 80 l 50 -30 l 80 80 l h f*"})).has_value());
    CHECK(difference(source_of(stroke), laid_of({"[3 2] 0 d 2.1 w 0 0 m 100 100 l S"})).has_value());
    CHECK(difference(source_of(stroke), laid_of({"[3 3] 0 d 2 w 0 0 m 100 100 l S"})).has_value());
  }
  SECTION("the source's group taken away") {
    Art grouped = boxes;
    grouped.group = "<< /S /Transparency /CS /DeviceRGB /I true >>";
    CHECK_FALSE(difference(source_of(grouped), laid_of(grouped)).has_value());
    CHECK(difference(source_of(grouped), laid_of(boxes)).has_value());
  }
}

// ISO 32000-1, 11.4.7: the library draws a page's group without its knocking out, and a form's with it.
TEST_CASE("tape: a page's group that knocks out comes as a form's, and no other does") {
  Art plain{"1 0 0 rg 10 10 50 50 re f"}, knocking = plain;
  plain.group = "<< /S /Transparency /CS /DeviceRGB /I true >>";
  knocking.group = "<< /S /Transparency /CS /DeviceRGB /I true /K true >>";
  CHECK_FALSE(difference(source_of(knocking), laid_of(knocking)).has_value());
  CHECK(difference(source_of(knocking), laid_of(plain)).has_value());
  CHECK(difference(source_of(plain), laid_of(knocking)).has_value());
}

// 12.5.3: Invisible is about kinds that a program does not know; an appearance that paints nothing is none.
TEST_CASE("tape: annotations that are invisible by their flag print, and those that paint nothing need not be there") {
  struct Row {
    char const* name;
    std::string flags, content, entries;
    bool paints;
  };
  std::string const square = "1 0 0 rg 0 0 20 10 re f";
  Row const rows[] = {{"plain", "4", square, "", true},
                      {"invisible", "5", square, "", true},
                      {"not on screens", "36", square, "", true},
                      {"hidden", "6", square, "", false},
                      {"not printing", "1", square, "", false},
                      {"empty", "4", " ", "", false},
                      {"a clip only", "4", "0 0 5 5 re W n", "", false},
                      {"on a hidden layer", "4", square, "/OC ", false}};
  for (auto const& row : rows) {
    INFO(row.name);
    auto const make = [&](bool laid, bool with_note) {
      PdfMaker pdf;
      auto const layer = pdf.object("<< /Type /OCG /Name (off) >>");
      pdf.catalog("OCProperties", "<< /OCGs [" + layer.text() + "] /D << /OFF [" + layer.text() + "] /Order [] >> >>");
      auto const note = pdf.form("[0 0 20 10]", row.content, "/Resources << >>");
      std::string const operators = "0 0 1 rg 100 100 50 50 re f";
      std::string const oc = row.entries.empty() ? "" : row.entries + layer.text();
      if (!laid) {
        pdf.page().media(kMedia).content(operators).annotation("/Type /Annot /Subtype /Stamp /Rect [40 50 80 70] /F " + row.flags + " " + oc +
                                                               " /AP << /N " + note.text() + " >>");
        return pdf.bytes();
      }
      auto const form = pdf.form(kMedia, operators, "/Resources << >>");
      std::string paint = "q 2 0 0 2 40 50 cm /N Do Q\n";
      auto& page = pdf.page().media("[0 0 612 1224]").use("XObject", "Fm0", form).use("XObject", "N", note);
      if (!oc.empty()) {
        page.use("Properties", "L", layer);
        paint = "/OC /L BDC " + paint + "EMC\n";
      }
      page.content(std::string("q ") + kMatrix + " cm /Fm0 Do\n" + (with_note ? "q 0 0 300 400 re W n\n" + paint + "Q\n" : "") + "Q");
      return pdf.bytes();
    };
    auto const source = make(false, false);
    CHECK(difference(source, make(true, false)).has_value() == row.paints);
    bool const adds = row.name == std::string("hidden") || row.name == std::string("not printing");  // then the form would print what did not
    CHECK(difference(source, make(true, true)).has_value() == adds);
  }
}

// Areas that end on the edges of a pattern's cells: the library tiles or draws copies as rounding has it, beginning with one cell or the next.
TEST_CASE("tape: a pattern is the same whichever cells the library draws it by, and no other is") {
  auto const tiled = [](std::string const& matrix, std::string const& step, std::string const& cell, std::string const& area) {
    return Art{
        area, [=](PdfMaker& pdf) {
          auto const pattern = pdf.stream(
              "/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [-3.3 331.3474 30.0333333 345.6331143] /Resources << >> /Matrix [" +
                  matrix + "] " + step,
              cell);
          return "<< /Pattern << /P " + pattern.text() + " >> >>";
        }};
  };
  std::string const cell = "1 0 0 rg -3.3 331.3474 16.7 7.1 re f", step = "/XStep 16.6666667 /YStep -14.2857143";
  for (std::string const matrix : {"1 0 0 1 0 0", "0.9 0.1 -0.1 0.9 3 3", "0 1 -1 0 300 0", "0.5 0 0 0.5 10 10", "1 0 0 0 0 0"})
    for (std::string const area : {"13.36666667 331.3475429 16.66666667 14.2857143 re f", "-3.3 331.3474 33.3333333 14.2857143 re f",
                                   "-3.3 331.3474 m 200 331.3474 l 200 20 l f", "0 0 300 400 re f", "5 5 0 90 re f",
                                   "0.5 0.2 -0.3 0.7 40 10 cm -3.3 317.0616857 50 28.5714286 re f", "0 0 0 0 5 5 cm 0 0 300 300 re f",
                                   "1 0 0 1 0 100000000 cm 10 10 20 20 re f", "5 w 20 20 200 300 re S"}) {
      INFO(matrix << ": " << area);
      auto const art = tiled(matrix, step, cell, "/Pattern cs /Pattern CS /P scn /P SCN " + area);
      bool const reads = matrix != "1 0 0 0 0 0";  // the page counts as not wholly read
      CHECK_FALSE(difference(source_of(art), laid_of(art), kPlacement, reads).has_value());
      CHECK_FALSE(
          difference(source_of(art), laid_of(art, "0 0.77777 -0.77777 0 512.3 99.1"), {0, 0.77777, -0.77777, 0, 512.3, 99.1}, reads).has_value());
    }
  std::string const paint = "/Pattern cs /P scn 0 0 300 400 re f";
  auto const source = source_of(tiled("1 0 0 1 0 0", step, cell, paint));
  CHECK(difference(source, laid_of(tiled("1 0 0 1 2 0", step, cell, paint))).has_value());  // moved by a part of a step
  CHECK(difference(source, laid_of(tiled("1.01 0 0 1 0 0", step, cell, paint))).has_value());
  CHECK(difference(source, laid_of(tiled("1 0 0 1 0 0", "/XStep 17 /YStep -14.2857143", cell, paint))).has_value());
  CHECK(difference(source, laid_of(tiled("1 0 0 1 0 0", step, "0 1 0 rg -3.3 331.3474 16.7 7.1 re f", paint))).has_value());
  CHECK(difference(source, laid_of(tiled("1 0 0 1 0 0", step, "1 0 0 1 1 0 cm " + cell, paint))).has_value());
  CHECK(difference(source, laid_of(tiled("1 0 0 1 0 0", step, "", paint))).has_value());
  CHECK_FALSE(difference(source, laid_of(tiled("1 0 0 1 33.3333334 14.2857143", step, cell, paint))).has_value());  // moved by whole steps
}

// The library breaks off at a picture of no width.
TEST_CASE("tape: where a page breaks off, the laid page must have shown the same") {
  auto const art = [](std::string operators) {
    return Art{std::move(operators), [](PdfMaker& pdf) {
                 return "<< /XObject << /I " +
                        pdf.stream("/Type /XObject /Subtype /Image /Width 0 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8", "").text() +
                        " >> >>";
               }};
  };
  std::string const bar = "0 0 1 rg 100 100 50 50 re f ", open = "q 10 10 200 200 re W n ";
  CHECK_FALSE(difference(source_of(art("/I Do")), laid_of(art("/I Do")), kPlacement, false).has_value());
  CHECK_FALSE(difference(source_of(art(open + bar + "/I Do " + bar)), laid_of(art(open + bar + "/I Do " + bar)), kPlacement, false).has_value());
  CHECK(difference(source_of(art(open + bar + "/I Do")), laid_of(art(open + "/I Do")), kPlacement, false).has_value());
  CHECK(difference(source_of(art(bar + "/I Do")), laid_of(art(open + bar + "/I Do")), kPlacement, false).has_value());
}

// A quarter of a float's step at 300 is a hundredth of such a box (12.5.5 scales it to the rectangle); digests and the clip still count.
TEST_CASE("tape: an appearance in a very narrow box lies where its clip does") {
  auto const make = [](bool laid, std::string const& cm, std::string const& shape) {
    PdfMaker pdf;
    auto const note = pdf.form("[0 0 0.001 40]", shape, "/Matrix [-1 0 0 1 300 0]");
    if (!laid) {
      pdf.page().media(kMedia).content("").annotation("/Type /Annot /Subtype /Stamp /Rect [120.5 60.25 190.75 99] /F 4 /AP << /N " + note.text() +
                                                      " >>");
      return pdf.bytes();
    }
    auto const form = pdf.form(kMedia, "", "/Resources << >>");
    pdf.page()
        .media("[0 0 612 1224]")
        .use("XObject", "Fm0", form)
        .use("XObject", "N", note)
        .content(std::string("q ") + kMatrix + " cm q /Fm0 Do n Q q 0 0 300 400 re W n\nq " + cm + " cm /N Do Q\nQ\nQ");
    return pdf.bytes();
  };
  std::string const shape = "1 0 0 rg 0 0 50 50 re f", right = "70250 0 0 0.96875 -21074809.25 60.25";
  CHECK_FALSE(difference(make(false, "", shape), make(true, right, shape)).has_value());
  CHECK(difference(make(false, "", shape), make(true, right, "1 0 0 rg 0 0 50 49 re f")).has_value());
  CHECK(difference(make(false, "", shape), make(true, "70250 0 0 0.96875 -21074829.25 60.25", shape)).has_value());
  CHECK(difference(make(false, "", shape), make(true, "70250 0 0 0.96875 -21074809.25 80.25", shape)).has_value());
}

TEST_CASE("tape: annotations come as further forms") {
  std::string const operators = "0 0 1 rg 100 100 50 50 re f";
  auto const source = [&] {
    PdfMaker pdf;
    auto const note = pdf.form("[0 0 20 10]", "1 0 0 rg 0 0 20 10 re f");
    auto& page = pdf.page().media(kMedia).content(operators);
    page.annotation("/Type /Annot /Subtype /Stamp /Rect [40 50 80 70] /F 4 /AP << /N " + note.text() + " >>");
    page.annotation("/Type /Annot /Subtype /Stamp /Rect [140 50 180 70] /F 0 /AP << /N " + note.text() + " >>");  // does not print
    return pdf.bytes();
  }();
  auto const laid = [&](std::string const& notes) {
    PdfMaker pdf;
    auto const note = pdf.form("[0 0 20 10]", "1 0 0 rg 0 0 20 10 re f");
    auto const form = pdf.form(kMedia, operators, "/Resources << >>");
    pdf.page()
        .media("[0 0 612 1224]")
        .use("XObject", "Fm0", form)
        .use("XObject", "N", note)
        .content(std::string("q ") + kMatrix + " cm /Fm0 Do\n" + notes + "Q");
    return pdf.bytes();
  };
  std::string const clip = "q 0 0 300 400 re W n\n";
  CHECK_FALSE(difference(source, laid(clip + "q 2 0 0 2 40 50 cm /N Do Q\nQ\n")).has_value());
  CHECK(difference(source, laid("")).has_value());                                                                    // missing
  CHECK(difference(source, laid(clip + "q 2 0 0 2 40.2 50 cm /N Do Q\nQ\n")).has_value());                            // elsewhere
  CHECK(difference(source, laid(clip + "q 2 0 0 2 40 50 cm /N Do Q q 2 0 0 2 140 50 cm /N Do Q\nQ\n")).has_value());  // one more
  CHECK(difference(source, laid("q 2 0 0 2 40 50 cm /N Do Q\n")).has_value());                                        // without the clip to the page
}

TEST_CASE("tape: rounding adds up with the marks, and nothing else does") {
  // Moves that leave no mark, as in a layer that does not print, are one step here. 0.02 pt is what 30,000 of them were seen to make.
  auto const after = [](int marks, std::string const& move) {
    Art art;
    for (int i = 0; i < marks; ++i) art.operators += "9 9 5 5 re f\n";
    art.operators += move + "100 100 50 50 re f";
    return art;
  };
  std::string const drifted = "1 0 0 1 0.017 0 cm ", moved = "1 0 0 1 0.2 0 cm ";  // times the scale of 1.2
  CHECK_FALSE(difference(source_of(after(20'000, "")), laid_of(after(20'000, drifted))).has_value());
  CHECK(difference(source_of(after(20'000, "")), laid_of(after(20'000, moved))).has_value());
  CHECK(difference(source_of(after(200, "")), laid_of(after(200, drifted))).has_value());
  CHECK(difference(source_of(after(0, "")), laid_of(after(0, drifted))).has_value());
}
