// Transfer functions of soft masks (ISO 32000-1, 11.6.5.2) and of colours (10.4), and the colourants None and All (8.6.6.4). Boxes are
// worked out by hand; poppler and Ghostscript draw the same.
#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

namespace {

bool close(std::optional<Rect<SeenSpace>> const& ink, Rect<SeenSpace> const& wanted, double by = 0.5) {
  return ink && std::abs(ink->x0 - wanted.x0) < by && std::abs(ink->y0 - wanted.y0) < by && std::abs(ink->x1 - wanted.x1) < by &&
         std::abs(ink->y1 - wanted.y1) < by;
}

char const* const kInverse2 = "<< /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>";
char const* const kNothing = "<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [0] /N 1 >>";

Rect<SeenSpace> const kAll{20, 20, 380, 280}, kWindow{100, 100, 200, 180};

}  // namespace

TEST_CASE("a soft mask's transfer function decides what shows, also outside of the mask") {
  struct Row {
    char const* what;
    std::string kind, transfer, content, backdrop, space;
    std::optional<Rect<SeenSpace>> ink;
  };
  auto const ramp = [](char const* words) { return std::string("stream ") + words; };
  std::vector<Row> const rows{
      {"none", "Luminosity", "/Identity", "1 g", "", "/DeviceGray", kWindow},
      {"inverted", "Luminosity", kInverse2, "1 g", "", "/DeviceGray", kAll},
      {"inverted by a program", "Luminosity", ramp("{1 exch sub}"), "1 g", "", "/DeviceGray", kAll},
      {"inverted, of a mask that is light all around", "Luminosity", kInverse2, "0 g", "/BC [1]", "/DeviceGray", kWindow},
      {"inverted in RGB", "Luminosity", kInverse2, "0 0 0 rg", "/BC [1 1 1]", "/DeviceRGB", kWindow},
      {"inverted in CMYK", "Luminosity", kInverse2, "0 0 0 1 k", "/BC [0 0 0 0]", "/DeviceCMYK", kWindow},
      {"inverted, black all around in CMYK", "Luminosity", kInverse2, "0 0 0 0 k", "", "/DeviceCMYK", kAll},
      {"nothing", "Luminosity", kNothing, "1 g", "", "/DeviceGray", std::nullopt},
      {"cut off below", "Luminosity", ramp("{0.6 gt {1} {0} ifelse}"), "0.5 g 40 40 300 200 re f 1 g", "", "/DeviceGray", kWindow},
      {"cut off above", "Luminosity", ramp("{0.6 gt {0} {1} ifelse}"), "1 g", "", "/DeviceGray", kAll},
      {"brightened", "Luminosity", "<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 0.4 >>", "0.2 g", "", "/DeviceGray", kWindow},
      {"alpha", "Alpha", "/Identity", "0 g", "", "/DeviceGray", kWindow},
      {"alpha inverted", "Alpha", kInverse2, "0 g", "", "/DeviceGray", kAll},
      {"alpha inverted where all is covered", "Alpha", kInverse2, "0 0 400 300 re f", "", "/DeviceGray", std::nullopt},
  };
  for (auto const& row : rows) {
    CAPTURE(row.what);
    PdfMaker pdf;
    auto const program =
        row.transfer.starts_with("stream ") ? pdf.stream("/FunctionType 4 /Domain [0 1] /Range [0 1]", row.transfer.substr(7)).text() : row.transfer;
    auto const group = pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 400 300] /Group << /S /Transparency /CS " + row.space + " >>",
                                  row.content + " 100 100 100 80 re f");
    pdf.page()
        .media("[0 0 400 300]")
        .use("ExtGState", "M", "<< /SMask << /Type /Mask /S /" + row.kind + " /G " + group.text() + " /TR " + program + row.backdrop + " >> >>")
        .content("/M gs 1 0 0 rg 20 20 360 260 re f");
    auto const marks = marks_of(pdf);
    if (row.ink) CHECK(close(marks.ink, *row.ink));
    else CHECK(!marks.ink);
  }
}

TEST_CASE("a soft mask that is made anew keeps its own place and matrix, and is drawn the same") {
  PdfMaker pdf;
  auto const group =
      pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 50 40] /Matrix [2 0 0 2 100 100] /Group << /S /Transparency /CS /DeviceGray >>",
                 "1 g 0 0 50 40 re f");
  pdf.page()
      .media("[0 0 400 300]")
      .use("ExtGState", "M", std::string("<< /SMask << /S /Luminosity /G ") + group.text() + " /TR " + kInverse2 + " >> >>")
      .content("1 0 0 1 10 0 cm /M gs 1 0 0 rg 20 20 180 260 re f");
  auto const bytes = pdf.bytes();
  auto const opened = open_for_marks(bytes);
  auto const page = opened.document->page(1);
  CHECK(close(opened.reader->read(page, {}).ink, {30, 20, 210, 280}));
  auto const picture = opened.reader->picture(page, page.seen.rect(), 72);
  REQUIRE(picture);
  auto const green_at = [&](double x, double y) {
    auto const column = static_cast<std::size_t>((x - picture->area.x0) * picture->dpi / 72),
               row = static_cast<std::size_t>((picture->area.y1 - y) * picture->dpi / 72);
    return picture->rgb[(row * static_cast<std::size_t>(picture->width) + column) * 3 + 1];
  };
  CHECK(green_at(60, 60) == 0);      // painted
  CHECK(green_at(150, 140) == 255);  // the mask's window, from 110 to 210 and 100 to 180
}

TEST_CASE("a transfer function of colours is taken as applied, in the states that have it") {
  struct Row {
    char const* what;
    std::string content;
    std::optional<Rect<SeenSpace>> ink;
  };
  Rect<SeenSpace> const square{200, 150, 250, 200};
  for (auto const& row : std::vector<Row>{
           {"white made black", "/T gs 1 g 20 20 360 260 re f /I gs 0 0 1 rg 200 150 50 50 re f", kAll},
           {"black made white", "/T gs 0 g 20 20 360 260 re f /I gs 0 0 1 rg 200 150 50 50 re f", square},
           {"only until Q", "q /T gs Q 1 g 20 20 360 260 re f 0 g 200 150 50 50 re f", square},
           {"set before q", "/T gs q 1 g 200 150 50 50 re f Q", square},
           {"back to none", "q /T gs q /I gs 1 g 20 20 360 260 re f Q 1 g 200 150 50 50 re f Q", square},
           {"the default", "/T gs /D gs 1 g 20 20 360 260 re f 0 g 200 150 50 50 re f", square},
           {"TR2 goes before TR", "/Two gs 1 g 20 20 360 260 re f 0 g 200 150 50 50 re f", square},
           {"inside a form only", "/F Do 1 g 20 20 360 260 re f 0 g 200 150 50 50 re f", square},
           {"four functions", "/Four gs 1 g 20 20 360 260 re f", kAll},
           {"a white picture", "/T gs q 360 0 0 260 20 20 cm /P Do Q", kAll},
       }) {
    CAPTURE(row.what);
    PdfMaker pdf;
    std::string const f = kInverse2;
    pdf.page()
        .media("[0 0 400 300]")
        .use("ExtGState", "T", "<< /TR " + f + " >>")
        .use("ExtGState", "I", "<< /TR /Identity >>")
        .use("ExtGState", "D", "<< /TR2 /Default >>")
        .use("ExtGState", "Two", "<< /TR " + f + " /TR2 /Default >>")
        .use("ExtGState", "Four", "<< /TR [" + f + f + f + f + "] >>")
        .use("XObject", "F",
             pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 400 300] /Resources << /ExtGState << /T << /TR " + f + " >> >> >>", "/T gs"))
        .use("XObject", "P", pdf.image_rgb(1, 1, {255, 255, 255}))
        .content(row.content);
    MarksWanted wanted;
    wanted.art = true;
    auto const marks = marks_of(pdf, wanted);
    CHECK(close(marks.ink, *row.ink));
    bool const some =
        std::string(row.what) == "white made black" || row.content.find("/T gs q 1 g") == 0 || std::string(row.what) == "four functions";
    if (some) CHECK(marks.art->transferred.count == 1);
  }
}

TEST_CASE("the colourant None leaves nothing, and All leaves every ink") {
  PdfMaker pdf;
  auto const none = "[/Separation /None /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 1] /N 1 >>]";
  auto const all = "[/Separation /All /DeviceGray << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [1] /N 1 >>]";
  auto& page = pdf.page().media("[0 0 400 300]").use("ColorSpace", "None", none).use("ColorSpace", "All", all).use("Font", "F", pdf.font());
  Rect<SeenSpace> const square{60, 60, 260, 210};
  InksWanted const inks{300, {}, 0};
  SECTION("fills, strokes, text, pictures in None") {
    page.use("XObject", "I",
             pdf.stream(std::string("/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace ") + none, "\xFF"))
        .content(
            "0.2 0.6 0.9 rg 60 60 200 150 re f /None cs 1 scn 20 20 360 260 re f /None CS 1 SCN 10 10 380 280 re S "
            "BT /F 40 Tf 10 250 Td (None) Tj ET q 390 0 0 290 5 5 cm /I Do Q");
    MarksWanted wanted;
    wanted.art = true;
    auto const bytes = pdf.bytes();
    auto const opened = open_for_marks(bytes);
    auto const marks = opened.reader->read(opened.document->page(1), wanted);
    CHECK(close(marks.ink, square));
    CHECK(marks.art->paths == 1);
    auto const found = opened.reader->inks(opened.document->page(1), inks);
    REQUIRE(found);
    CHECK(found->total_max_pct < 200);
  }
  SECTION("All is ink whatever its stand-in says, and lies in each plate") {
    page.content("/All cs 1 scn 60 60 200 150 re f");
    auto const bytes = pdf.bytes();
    auto const opened = open_for_marks(bytes);
    CHECK(close(opened.reader->read(opened.document->page(1), {}).ink, square));
    auto const found = opened.reader->inks(opened.document->page(1), inks);
    REQUIRE(found);
    CHECK(found->total_max_pct == Approx(400).margin(1));
  }
}

TEST_CASE("inks that overprint add up") {
  struct Row {
    char const* what;
    char const* state;
    char const* second;
    double total;
  };
  // ISO 32000-1, 8.6.7: with OPM 1 a tint of 0 in DeviceCMYK leaves what lies beneath; without overprint it is knocked out.
  for (auto const& row :
       {Row{"overprint, mode 1", "/OP true /op true /OPM 1", "0 1 0 0 k", 200}, Row{"no overprint", "/op false", "0 1 0 0 k", 100},
        Row{"overprint, mode 0", "/OP true /op true /OPM 0", "0 1 0 0 k", 100}, Row{"black over it", "/OP true /op true /OPM 1", "0 0 0 1 k", 200}}) {
    CAPTURE(row.what);
    PdfMaker pdf;
    pdf.page()
        .media("[0 0 400 300]")
        .use("ExtGState", "G", std::string("<< ") + row.state + " >>")
        .content(std::string("/G gs 1 0 0 0 k 50 50 100 100 re f ") + row.second + " 50 50 100 100 re f");
    auto const bytes = pdf.bytes();
    auto const opened = open_for_marks(bytes);
    auto const found = opened.reader->inks(opened.document->page(1), {300, {}, 0});
    REQUIRE(found);
    CHECK(found->total_max_pct == Approx(row.total).margin(1));
  }
}

// Boxes by hand; poppler draws the same of what is told by a function along a line.
TEST_CASE("a transfer function holds for shadings as for fills") {
  struct Row {
    char const* what;
    std::string transfer, function, space;
    std::optional<Rect<SeenSpace>> ink;
  };
  std::string const one = "<< /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [1] /N 1 >>";
  auto const from_to = [](std::string const& a, std::string const& b) {
    return "<< /FunctionType 2 /Domain [0 1] /C0 [" + a + "] /C1 [" + b + "] /N 1 >>";
  };
  Rect<SeenSpace> const all{50, 50, 250, 150};
  Row const rows[] = {{"white inverted", kInverse2, from_to("1", "1"), "/DeviceGray", all},
                      {"white inverted, in RGB", kInverse2, from_to("1 1 1", "1 1 1"), "/DeviceRGB", all},
                      {"white inverted, in CMYK", kInverse2, from_to("0 0 0 0", "0 0 0 0"), "/DeviceCMYK", all},
                      {"black inverted", kInverse2, from_to("0", "0"), "/DeviceGray", std::nullopt},
                      {"black made white", one, from_to("0", "0"), "/DeviceGray", std::nullopt},
                      {"none", "/Identity", from_to("1", "1"), "/DeviceGray", std::nullopt},
                      {"black to white, inverted", kInverse2, from_to("0", "1"), "/DeviceGray", Rect<SeenSpace>{51.8, 50, 250, 150}}};
  for (auto const& row : rows)
    for (std::string const kind : {"2 /Coords [50 0 250 0]", "3 /Coords [50 100 0 50 100 500]"})
      for (bool const painted : {true, false}) {
        if (row.transfer == kInverse2 && kind[0] == '3' && row.function == from_to("0", "1")) continue;
        INFO(row.what << " " << kind << (painted ? " sh" : " scn"));
        PdfMaker pdf;
        auto const shading =
            pdf.object("<< /ShadingType " + kind + " /ColorSpace " + row.space + " /Extend [true true] /Function " + row.function + " >>");
        pdf.page()
            .media("[0 0 300 300]")
            .use("ExtGState", "G", pdf.object("<< /TR " + row.transfer + " >>"))
            .use("Shading", "S", shading)
            .use("Pattern", "P", pdf.object("<< /PatternType 2 /Shading " + shading.text() + " >>"))
            .content(painted ? "/G gs q 50 50 200 100 re W n /S sh Q" : "/G gs /Pattern cs /P scn 50 50 200 100 re f");
        auto const ink = marks_of(pdf).ink;
        CHECK(ink.has_value() == row.ink.has_value());
        if (row.ink) CHECK(close(ink, *row.ink, 1));
      }
}
