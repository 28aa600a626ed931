// Extents of ink on pages whose extents are known. Values are computed by hand from the operators and from ISO 32000-1 (8.4.3 and 8.5.3
// for strokes, 11.3.5 for blend modes), unless said otherwise.
#include <cmath>
#include <optional>

#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

namespace {

constexpr double kExact = 0.02;      // points: floats of the library
constexpr double kByPicture = 0.26;  // points: a pixel at 288 dpi

void check_ink(Marks const& marks, Rect<SeenSpace> const& wanted, double slack = kExact) {
  REQUIRE(marks.ink.has_value());
  INFO("ink " << marks.ink->x0 << " " << marks.ink->y0 << " " << marks.ink->x1 << " " << marks.ink->y1);
  CHECK(std::fabs(marks.ink->x0 - wanted.x0) <= slack);
  CHECK(std::fabs(marks.ink->y0 - wanted.y0) <= slack);
  CHECK(std::fabs(marks.ink->x1 - wanted.x1) <= slack);
  CHECK(std::fabs(marks.ink->y1 - wanted.y1) <= slack);
}

struct Row {
  char const* name;
  char const* operators;
  std::optional<Rect<SeenSpace>> ink;
};

}  // namespace

TEST_CASE("ink: paths and strokes by their exact extents") {
  double const root = std::sqrt(2.0);
  Row const rows[] = {
      {"a filled rectangle", "100 200 50 30 re f", Rect<SeenSpace>{100, 200, 150, 230}},
      {"a curve by its extremum, not its control points", "100 100 m 100 200 200 200 200 100 c f", Rect<SeenSpace>{100, 100, 200, 175}},
      {"a stroke is half its width outside", "10 w 100 100 m 200 100 l S", Rect<SeenSpace>{100, 95, 200, 105}},
      {"square caps reach out by half the width", "10 w 2 J 100 100 m 200 100 l S", Rect<SeenSpace>{95, 95, 205, 105}},
      {"round caps too", "10 w 1 J 100 100 m 200 100 l S", Rect<SeenSpace>{95, 95, 205, 105}},
      {"a slanted stroke with butt caps", "10 w 100 100 m 200 200 l S",
       Rect<SeenSpace>{100 - 5 / root, 100 - 5 / root, 200 + 5 / root, 200 + 5 / root}},
      {"a mitred corner of 90 degrees", "10 w 100 100 m 200 100 l 200 200 l S", Rect<SeenSpace>{100, 95, 205, 200}},
      {"a sharp corner within the miter limit", "2 w 100 M 100 100 m 150 200 l 200 100 l S",
       Rect<SeenSpace>{100 - std::sqrt(0.8), 100 - std::sqrt(0.2), 200 + std::sqrt(0.8), 200 + std::sqrt(5.0)}},
      {"the same corner bevelled", "2 w 2 j 100 100 m 150 200 l 200 100 l S",
       Rect<SeenSpace>{100 - std::sqrt(0.8), 100 - std::sqrt(0.2), 200 + std::sqrt(0.8), 200 + std::sqrt(0.2)}},
      {"the same corner beyond the miter limit", "2 w 2 M 100 100 m 150 200 l 200 100 l S",
       Rect<SeenSpace>{100 - std::sqrt(0.8), 100 - std::sqrt(0.2), 200 + std::sqrt(0.8), 200 + std::sqrt(0.2)}},
      {"a round corner", "2 w 1 j 100 100 m 150 200 l 200 100 l S",
       Rect<SeenSpace>{100 - std::sqrt(0.8), 100 - std::sqrt(0.2), 200 + std::sqrt(0.8), 201}},
      {"a pen squeezed by the matrix", "q 3 0 0 1 0 0 cm 10 w 50 100 m 50 200 l S Q", Rect<SeenSpace>{135, 100, 165, 200}},
      {"a hairline has no breadth", "0 w 100 100 m 200 100 l S", Rect<SeenSpace>{100, 100, 200, 100}},
      {"dashes end where the last one ends", "4 w [10 20] 0 d 100 100 m 195 100 l S", Rect<SeenSpace>{100, 98, 195, 102}},
      {"a gap at the end leaves nothing", "4 w [10 20] 0 d 100 100 m 185 100 l S", Rect<SeenSpace>{100, 98, 170, 102}},
      {"a dot with round caps", "10 w 1 J 100 100 m 100 100 l S", Rect<SeenSpace>{95, 95, 105, 105}},
      {"a dot with butt caps leaves nothing", "10 w 100 100 m 100 100 l S 10 10 5 5 re f", Rect<SeenSpace>{10, 10, 15, 15}},
      {"a curve stroked round a bend", "10 w 100 100 m 100 200 200 200 200 100 c S", Rect<SeenSpace>{95, 100, 205, 180}},
      // ISO 32000-1, 10.6.5: each pixel that a shape touches is painted; poppler and Ghostscript draw these as hairlines.
      {"a fill without area leaves a hairline", "100 100 m 200 150 l f", Rect<SeenSpace>{100, 100, 200, 150}},
      {"so does a rectangle without height", "100 100 200 0 re f", Rect<SeenSpace>{100, 100, 300, 100}},
      {"or without width", "100 100 0 200 re f", Rect<SeenSpace>{100, 100, 100, 300}},
      {"a flat part of a larger path", "300 200 20 20 re 50 100 m 250 100 l f", Rect<SeenSpace>{50, 100, 320, 220}},
      {"a path squeezed flat by the matrix", "q 1 0 0 0 0 100 cm 50 100 200 100 re f Q", Rect<SeenSpace>{50, 100, 250, 100}},
      {"a curve that lies on a line", "50 100 m 100 100 200 100 350 100 c f", Rect<SeenSpace>{50, 100, 350, 100}},
      {"a fill of a point leaves nothing", "100 100 0 0 re f 50 50 m 50 50 l f", std::nullopt},
      {"a mere move leaves nothing", "100 100 m S", std::nullopt},
      {"white leaves nothing on paper", "1 1 1 rg 100 100 50 50 re f", std::nullopt},
      {"less than half a percent neither", "0.996 g 100 100 50 50 re f", std::nullopt},
      {"half a percent does", "0.995 g 100 100 50 50 re f", Rect<SeenSpace>{100, 100, 150, 150}},
      {"in any separation", "0 0 0.005 0 k 100 100 50 50 re f", Rect<SeenSpace>{100, 100, 150, 150}},
      {"light grey does", "0.97 g 100 100 50 50 re f", Rect<SeenSpace>{100, 100, 150, 150}},
      {"a light colour does", "1 1 0.9 rg 100 100 50 50 re f", Rect<SeenSpace>{100, 100, 150, 150}},
  };
  for (auto const& row : rows) {
    INFO(row.name);
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", row.operators));
    CHECK(marks.whole);
    CHECK(marks.sides_by_picture == 0);
    if (row.ink) check_ink(marks, *row.ink);
    else CHECK_FALSE(marks.ink.has_value());
  }
}

TEST_CASE("ink: clips") {
  Row const rows[] = {
      {"an upright clip cuts exactly", "100 100 50 50 re W n 0 0 300 120 re f", Rect<SeenSpace>{100, 100, 150, 120}},
      {"a slanted line cut by an upright clip", "100 100 100 100 re W n 2 w 0 0 m 400 200 l S",
       Rect<SeenSpace>{200 - std::sqrt(5.0), 100, 200, 100 + std::sqrt(5.0) / 2}},  // only a corner of it shows
      {"a round clip over a ground shows the whole clip", "100 100 m 100 200 200 200 200 100 c h W n 0 0 400 400 re f",
       Rect<SeenSpace>{100, 100, 200, 175}},
      {"a triangle as a clip of a rectangle", "100 100 m 200 100 l 150 200 l h W n 100 150 100 100 re f", Rect<SeenSpace>{125, 150, 175, 200}},
      {"what is clipped away leaves nothing", "100 100 50 50 re W n 200 200 50 50 re f", std::nullopt},
      {"an empty clip hides all", "100 100 m 100 100 l h W n 0 0 300 300 re f", std::nullopt},
      {"a clip without height leaves a hairline", "50 100 200 0 re W n 0 0 400 300 re f", Rect<SeenSpace>{50, 100, 250, 100}},
      {"so does a clip along a line", "50 100 m 350 100 l W n 0 0 400 300 re f", Rect<SeenSpace>{50, 100, 350, 100}},
      {"no path clips nothing", "W n 10 10 100 100 re f", Rect<SeenSpace>{10, 10, 110, 110}},
      {"a clip inside a clip", "100 100 50 50 re W n 120 90 100 40 re W n 0 0 300 300 re f", Rect<SeenSpace>{120, 100, 150, 130}},
      {"what lies beyond the page", "-50 -50 100 100 re f", Rect<SeenSpace>{0, 0, 50, 50}},
      {"a stroke that runs off the page", "10 w -50 100 m 100 100 l 100 200 l S", Rect<SeenSpace>{0, 95, 105, 200}},
      {"a corner that its miter limit would let off the page", "10 w 20 100 m 100 100 l 100 200 l S", Rect<SeenSpace>{20, 95, 105, 200}},
      {"a curve that bends back before the page's edge", "10 w 100 60 m 100 -10 200 -10 200 60 c S", Rect<SeenSpace>{95, 2.5, 205, 60}},
  };
  for (auto const& row : rows) {
    INFO(row.name);
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", row.operators));
    CHECK(marks.sides_by_picture == 0);
    if (row.ink) check_ink(marks, *row.ink);
    else CHECK_FALSE(marks.ink.has_value());
  }
}

TEST_CASE("ink: white that covers ink, told by a picture only where it must be") {
  SECTION("a white ground first changes nothing") {
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", "1 g 0 0 612 792 re f 0 g 100 100 50 50 re f"));
    check_ink(marks, {100, 100, 150, 150});
    CHECK(marks.sides_by_picture == 0);
  }
  SECTION("white over a part") {
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", "100 100 200 50 re f 1 g 90 90 110 70 re f"));
    check_ink(marks, {200, 100, 300, 150}, kByPicture);
    CHECK(marks.sides_by_picture > 0);
  }
  SECTION("white over all") {
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", "100 100 200 50 re f 1 g 90 90 300 70 re f"));
    CHECK_FALSE(marks.ink.has_value());
  }
  SECTION("white in the middle moves no side") {
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", "100 100 200 50 re f 1 g 120 110 50 20 re f"));
    check_ink(marks, {100, 100, 300, 150});
    CHECK(marks.sides_by_picture == 0);
  }
  SECTION("where white prints it is ink and covers nothing") {
    MarksWanted wanted;
    wanted.white_prints = true;
    auto const marks = marks_of(one_page_pdf("[0 0 612 792]", "100 100 200 50 re f 1 g 90 90 300 70 re f"), wanted);
    check_ink(marks, {90, 90, 390, 160});
  }
  SECTION("a white mark that multiplies covers nothing (Multiply with white gives the backdrop)") {
    PdfMaker pdf;
    pdf.page().use("ExtGState", "M", "<< /BM /Multiply >>").content("100 100 200 50 re f /M gs 1 g 90 90 300 70 re f");
    check_ink(marks_of(pdf), {100, 100, 300, 150});
  }
  SECTION("a mark of zero alpha leaves nothing") {
    PdfMaker pdf;
    pdf.page().use("ExtGState", "Z", "<< /ca 0 >>").content("100 100 20 20 re f /Z gs 0 0 300 300 re f");
    check_ink(marks_of(pdf), {100, 100, 120, 120});
  }
}

TEST_CASE("ink: pages turned, cropped, scaled by their unit, with any origin") {
  // A mark 20 wide and 10 high, 30 right of and 40 above the crop box's lower left corner; the crop box is 200 x 300.
  struct Turned {
    int rotate;
    Rect<SeenSpace> ink;
  };
  Turned const turns[] = {{0, {30, 40, 50, 50}}, {90, {40, 150, 50, 170}}, {180, {150, 250, 170, 260}}, {270, {250, 30, 260, 50}}};
  for (double const x : {0.0, 70.0, -500.0})
    for (double const y : {0.0, -33.0})
      for (int const unit : {1, 2})
        for (auto const& t : turns) {
          INFO("origin " << x << " " << y << ", Rotate " << t.rotate << ", UserUnit " << unit);
          PdfMaker pdf;
          auto const number = [](double v) { return std::to_string(v) + " "; };
          pdf.page()
              .media("[" + number(x - 10) + number(y - 10) + number(x + 210) + number(y + 310) + "]")
              .crop("[" + number(x) + number(y) + number(x + 200) + number(y + 300) + "]")
              .rotate(std::to_string(t.rotate))
              .user_unit(std::to_string(unit))
              .content(number(x + 30) + number(y + 40) + "20 10 re f");
          check_ink(marks_of(pdf), {t.ink.x0 * unit, t.ink.y0 * unit, t.ink.x1 * unit, t.ink.y1 * unit});
        }
}

TEST_CASE("ink: pictures by the pixels that leave ink") {
  std::vector<std::uint8_t> rgb(10 * 10 * 3, 255);
  auto dot = [&](std::size_t x, std::size_t y) { rgb[(y * 10 + x) * 3] = 0; };
  dot(2, 1);
  dot(6, 8);
  PdfMaker pdf;
  auto& page = pdf.page();
  SECTION("a logo on white is the logo") {
    page.use("XObject", "I", pdf.image_rgb(10, 10, rgb)).content("q 100 0 0 100 200 300 cm /I Do Q");
    check_ink(marks_of(pdf), {220, 310, 270, 390});  // columns 2 to 6, rows 1 to 8 from the top
  }
  SECTION("mirrored and turned by a quarter") {
    page.use("XObject", "I", pdf.image_rgb(10, 10, rgb)).content("q 0 100 100 0 200 300 cm /I Do Q");
    auto const marks = marks_of(pdf);
    check_ink(marks, {210, 320, 290, 370});  // rows run to the right from the last, columns up
    REQUIRE(marks.images.size() == 1);
    CHECK(marks.images[0].reversed);
  }
  SECTION("its soft mask counts: only the lower left quarter shows") {
    std::vector<std::uint8_t> mask(16, 0);
    for (std::size_t y : {2, 3})
      for (std::size_t x : {0, 1}) mask[y * 4 + x] = 255;
    std::vector<std::uint8_t> const black(10 * 10 * 3, 0);
    auto const shape = pdf.image_gray(4, 4, mask);
    page.use("XObject", "I", pdf.image_rgb(10, 10, black, "/SMask " + shape.text())).content("q 100 0 0 100 200 300 cm /I Do Q");
    auto const marks = marks_of(pdf);
    check_ink(marks, {200, 300, 250, 350});
    CHECK(marks.sides_by_picture == 0);
  }
  SECTION("what a crop box leaves between its outermost pixels") {
    std::vector<std::uint8_t> wide(100 * 10, 255);
    for (std::size_t y = 0; y < 10; ++y) wide[y * 100] = wide[y * 100 + 99] = 0;
    wide[5 * 100 + 45] = 0;  // the only one that shows
    page.crop("[240 0 260 792]").use("XObject", "I", pdf.image_gray(100, 10, wide)).content("q 100 0 0 100 200 300 cm /I Do Q");
    check_ink(marks_of(pdf), {5, 340, 6, 350}, kByPicture);
  }
  SECTION("rows for which there is no data leave nothing") {
    auto const cut =
        pdf.stream("/Type /XObject /Subtype /Image /Width 10 /Height 10 /BitsPerComponent 8 /ColorSpace /DeviceGray", std::string(70, 'x'));
    page.use("XObject", "I", cut).content("q 100 0 0 100 200 300 cm /I Do Q");
    check_ink(marks_of(pdf), {200, 330, 300, 400});
  }
  SECTION("resolution along its own rows and columns") {
    page.use("XObject", "I", pdf.image_rgb(10, 10, rgb)).content("q 0 36 -72 0 300 300 cm /I Do Q");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.images.size() == 1);
    CHECK(std::fabs(marks.images[0].ppi_along - 20) < 0.01);
    CHECK(std::fabs(marks.images[0].ppi_down - 10) < 0.01);
    CHECK_FALSE(marks.images[0].reversed);
    CHECK(std::fabs(marks.images[0].where.x0 - 228) < kExact);
  }
}

TEST_CASE("ink: tilings, shadings, soft masks, groups") {
  PdfMaker pdf;
  auto& page = pdf.page();
  SECTION("a lattice of dots: whole copies by arithmetic") {
    auto const tile =
        pdf.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >>", "4 4 2 2 re f");
    page.use("Pattern", "P", tile).content("/Pattern cs /P scn 100 100 200 100 re f");
    auto const marks = marks_of(pdf);
    check_ink(marks, {104, 104, 296, 196});
    CHECK(marks.sides_by_picture == 0);
  }
  SECTION("a tile that fills its cell fills the area") {
    auto const tile = pdf.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >>",
                                 "0 0 10 10 re f");
    page.use("Pattern", "P", tile).content("/Pattern cs /P scn 103 103 200 100 re f");
    check_ink(marks_of(pdf), {103, 103, 303, 203});
  }
  SECTION("cells of a million units that the matrix makes small") {
    auto const tile = pdf.stream(
        "/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 1000000 1000000] /XStep 1000000 /YStep 1000000 "
        "/Matrix [0.000008 0 0 0.000008 100 100] /Resources << >>",
        "0 0 1000000 1000000 re f");
    page.use("Pattern", "P", tile).content("/Pattern cs /P scn 103 103 200 100 re f");
    check_ink(marks_of(pdf), {103, 103, 303, 203});
  }
  SECTION("millions of tiles take no time") {
    auto const tile = pdf.stream(
        "/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 0.01 0.01] /XStep 0.01 /YStep 0.01 "
        "/Resources << >>",
        "0.004 0.004 0.002 0.002 re f");
    page.use("Pattern", "P", tile).content("/Pattern cs /P scn 100 100 400 500 re f");
    auto const marks = marks_of(pdf);
    CHECK_FALSE(marks.out_of_time);
    CHECK(marks.whole);
  }
  SECTION("a shading that fades to white ends where it does") {
    page.use("Shading", "S",
             "<< /ShadingType 2 /ColorSpace /DeviceGray /Coords [100 0 300 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] "
             "/N 1 >> >>")
        .content("50 200 400 100 re W n /S sh");
    // The last half percent is none: from 100 + 0.995 * 200 on.
    check_ink(marks_of(pdf), {100, 200, 299, 300}, 0.6);
  }
  SECTION("a clear window in a soft mask is an upright clip") {
    auto const mask = pdf.form("[0 0 612 792]", "1 g 100 100 80 60 re f", "/Group << /S /Transparency /CS /DeviceGray >> /Resources << >>");
    page.use("ExtGState", "M", "<< /SMask << /Type /Mask /S /Luminosity /G " + mask.text() + " >> >>").content("/M gs 0 0 612 792 re f");
    auto const marks = marks_of(pdf);
    check_ink(marks, {100, 100, 180, 160});
    CHECK(marks.sides_by_picture == 0);
  }
  SECTION("a fading soft mask is decided by a picture") {
    auto const mask =
        pdf.form("[0 0 612 792]", "1 g 100 100 m 180 100 l 140 160 l f", "/Group << /S /Transparency /CS /DeviceGray >> /Resources << >>");
    page.use("ExtGState", "M", "<< /SMask << /Type /Mask /S /Luminosity /G " + mask.text() + " >> >>").content("/M gs 0 120 612 792 re f");
    auto const marks = marks_of(pdf);
    CHECK(marks.sides_by_picture > 0);
    // The triangle's sides at y = 120: a third of the way up.
    check_ink(marks, {100 + 40.0 / 3, 120, 180 - 40.0 / 3, 160}, 0.6);
  }
  SECTION("a shading without a clip covers the page, of which the edge cuts nothing") {
    page.use("Shading", "S",
             "<< /ShadingType 2 /ColorSpace /DeviceRGB /Coords [100 0 300 0] /Extend [true true] /Function << /FunctionType 2 /Domain [0 1] /C0 [1 0 "
             "0] "
             "/C1 [0 0 1] /N 1 >> >>")
        .content("/S sh");
    auto const marks = marks_of(pdf);
    check_ink(marks, {0, 0, 612, 792});
    CHECK(marks.cut.empty());
  }
  SECTION("Screen over nothing shows as it is; a page's group is isolated") {
    page.use("ExtGState", "S", "<< /BM /Screen >>").content("/S gs 0.5 g 100 100 50 50 re f");
    check_ink(marks_of(pdf), {100, 100, 150, 150});
  }
}

TEST_CASE("ink: text by its outlines") {
  PdfMaker pdf;
  auto& page = pdf.page().use("Font", "F", pdf.font("Helvetica"));
  SECTION("spaces and invisible text leave nothing") {
    page.content("BT /F 100 Tf 100 100 Td (   ) Tj 3 Tr (Lantern) Tj ET");
    auto const marks = marks_of(pdf);
    CHECK_FALSE(marks.ink.has_value());
    CHECK(marks.glyphs.invisible == 7);
  }
  SECTION("a full stop is no higher than it is") {
    page.content("BT /F 100 Tf 100 100 Td (.) Tj ET");
    auto const marks = marks_of(pdf);
    REQUIRE(marks.ink);
    CHECK(marks.ink->y0 >= 99.5);
    CHECK(marks.ink->height() < 16);  // the box of the whole font is about ten times as high
  }
  SECTION("turning by half a right angle turns the outline, not its box") {
    page.content("BT /F 100 Tf 70.7107 70.7107 -70.7107 70.7107 300 300 Tm /F 1 Tf (I) Tj ET");
    auto const turned = marks_of(pdf);
    REQUIRE(turned.ink);
    // The letter is a bar about 0.09 wide and 0.72 high from (0.09, 0); its own box turned is as wide as high.
    CHECK(turned.ink->width() < 70);
    CHECK(std::fabs(turned.ink->width() - turned.ink->height()) < 1.5);
  }
  SECTION("which way glyphs read") {
    page.content("BT /F 20 Tf 100 100 Td (abc) Tj ET q -1 0 0 1 400 0 cm BT /F 20 Tf 100 200 Td (de) Tj ET Q");
    auto const marks = marks_of(pdf);
    CHECK(marks.glyphs.right == 3);
    CHECK(marks.glyphs.reversed == 2);
  }
  SECTION("stroked text is half the pen wider") {
    page.content("BT /F 100 Tf 100 100 Td (I) Tj ET");
    PdfMaker other;
    other.page().use("Font", "F", other.font("Helvetica")).content("10 w BT /F 100 Tf 100 100 Td 1 Tr (I) Tj ET");
    auto const filled = marks_of(pdf), stroked = marks_of(other);
    REQUIRE(filled.ink);
    check_ink(stroked, filled.ink->grown(5), 0.05);
  }
}

TEST_CASE("ink: a JBIG2 picture that cannot be decoded is reported, not taken for black") {
  using std::string_literals::operator""s;
  // ISO/IEC 14492, 7.2 (from memory): a page of 8 x 8, then a symbol dictionary that promises more symbols than it can have.
  auto const page_segment = "\0\0\0\0\x30\0\x01\0\0\0\x13\0\0\0\x08\0\0\0\x08\0\0\0\0\0\0\0\0\0\0\0"s;
  auto const symbols = "\0\0\0\x01\0\0\x01\0\0\0\x12\0\0\x03\xff\xfd\xff\x02\xfe\xfe\xfe\x7f\xff\xff\xff\x00\x00\x00\x01"s;
  for (bool const broken : {true, false}) {
    PdfMaker pdf;
    auto const picture =
        pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 8 /ColorSpace /DeviceGray /BitsPerComponent 1 /Filter /JBIG2Decode",
                   broken ? page_segment + symbols : page_segment);
    pdf.page().use("XObject", "I", picture).content("q 80 0 0 80 100 100 cm /I Do Q");
    auto const marks = marks_of(pdf);
    CAPTURE(broken, marks.trouble);
    CHECK(marks.whole == !broken);
    if (broken) CHECK(marks.trouble.find("JBIG2") != std::string::npos);
  }
}
