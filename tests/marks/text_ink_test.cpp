// Where text leaves ink: in the encodings of CJK fonts (ISO 32000-1, 9.7.5.2), and under text that clips (9.3.6).
#include <cstdio>
#include <optional>
#include <string>

#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

namespace {

std::string hex(std::string const& bytes) {
  std::string text;
  for (unsigned char c : bytes) {
    char two[3];
    std::snprintf(two, sizeof two, "%02x", c);
    text += two;
  }
  return text;
}

std::string encoded(std::u32string const& text, std::string const& form) {
  std::string out;
  auto const byte = [&](char32_t c) { out += static_cast<char>(c & 0xFF); };
  for (char32_t c : text) {
    if (form == "UTF32") {
      byte(c >> 24), byte(c >> 16), byte(c >> 8), byte(c);
    } else if (form == "UTF16" && c > 0xFFFF) {
      char32_t const high = 0xD800 + ((c - 0x10000) >> 10), low = 0xDC00 + ((c - 0x10000) & 0x3FF);
      byte(high >> 8), byte(high), byte(low >> 8), byte(low);
    } else if (form == "UTF16") {
      byte(c >> 8), byte(c);
    } else if (c > 0xFFFF) {
      byte(0xF0 | c >> 18), byte(0x80 | (c >> 12 & 0x3F)), byte(0x80 | (c >> 6 & 0x3F)), byte(0x80 | (c & 0x3F));
    } else if (c > 0x7FF) {
      byte(0xE0 | c >> 12), byte(0x80 | (c >> 6 & 0x3F)), byte(0x80 | (c & 0x3F));
    } else if (c > 0x7F) {
      byte(0xC0 | c >> 6), byte(0x80 | (c & 0x3F));
    } else {
      byte(c);
    }
  }
  return out;
}

std::optional<Rect<SeenSpace>> ink_of(std::u32string const& text, std::string const& family, std::string const& ordering, std::string const& form,
                                      std::string const& way) {
  PdfMaker pdf;
  auto const descriptor = pdf.object(
      "<< /Type /FontDescriptor /FontName /Odd /Flags 4 /FontBBox [0 -200 1000 900] /ItalicAngle 0 /Ascent 800 /Descent -200 /CapHeight 700 /StemV "
      "80 >>");
  auto const font =
      pdf.object("<< /Type /Font /Subtype /Type0 /BaseFont /Odd /Encoding /" + family + "-" + form + "-" + way +
                 " /DescendantFonts [<< /Type /Font /Subtype /CIDFontType0 /BaseFont /Odd /CIDSystemInfo << /Registry (Adobe) /Ordering (" +
                 ordering + ") /Supplement 2 >> /FontDescriptor " + descriptor.text() + " >>] >>");
  pdf.page().media("[0 0 400 400]").use("Font", "F", font).content("BT /F 40 Tf 100 250 Td <" + hex(encoded(text, form)) + "> Tj ET");
  return marks_of(pdf).ink;
}

void is_near(std::optional<Rect<SeenSpace>> const& ink, Rect<SeenSpace> const& wanted, double by) {
  REQUIRE(ink);
  INFO(ink->x0 << " " << ink->y0 << " " << ink->x1 << " " << ink->y1);
  CHECK(ink->contains(wanted, by));
  CHECK(wanted.contains(*ink, by));
}

}  // namespace

// The same characters in UTF-16, of which poppler and Ghostscript draw the same.
TEST_CASE("CJK text of fonts that are not in the file lies where it does in each form of Unicode") {
  struct Row {
    char const* family;
    char const* ordering;
    std::u32string text;
  };
  Row const rows[] = {{"UniJIS", "Japan1", U"日本a"},
                      {"UniGB", "GB1", U"中国人"},
                      {"UniCNS", "CNS1", U"中國a"},
                      {"UniKS", "Korea1", U"한국"},
                      {"UniJIS", "Japan1", U"\u00E9\U0002000B日"}};
  for (auto const& row : rows)
    for (std::string const way : {"H", "V"}) {
      auto const wanted = ink_of(row.text, row.family, row.ordering, "UTF16", way);
      REQUIRE(wanted);
      for (std::string const form : {"UTF8", "UTF32"}) {
        INFO(row.family << "-" << form << "-" << way);
        is_near(ink_of(row.text, row.family, row.ordering, form, way), *wanted, 0.01);
      }
      if (row.family == std::string("UniJIS"))
        for (std::string const form : {"UTF8", "UTF16", "UTF32"}) is_near(ink_of(row.text, "UniJIS2004", row.ordering, form, way), *wanted, 0.01);
    }
}

// Boxes as poppler draws them; of text that is painted between texts that clip, Ghostscript draws only what the texts before it leave.
TEST_CASE("texts that clip do so together, at the end of their text object") {
  struct Row {
    char const* content;
    std::optional<Rect<SeenSpace>> ink;
  };
  std::string const rest = " 0 1 0 rg 0 0 300 300 re f";
  Row const rows[] = {
      {"4 Tr 20 200 Td (Hi) Tj 0 -120 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 80, 54.9, 229.2}},
      {"4 Tr 20 200 Td (Hi) Tj 0 Tr 0 -120 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 80, 54.9, 229.2}},
      {"7 Tr 20 200 Td (Hi) Tj 4 Tr 0 -120 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 80, 54.9, 229.2}},
      {"7 Tr 20 50 Td (Hi) Tj 0 Tr 0 150 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 50, 54.9, 229.2}},
      {"7 Tr 20 50 Td (Hi) Tj 0 Tr 0 150 Td (Hi) Tj 7 Tr 0 -100 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 50, 54.9, 229.2}},
      {"0 Tr 20 50 Td (Hi) Tj 7 Tr 0 150 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 50, 54.9, 229.2}},
      {"7 Tr 20 50 Td (Hi) Tj ET BT /F 40 Tf 20 200 Td (Hi) Tj ET", std::nullopt},  // the second object is clipped to the first
      {"q 7 Tr 20 50 Td (Hi) Tj 3 Tr 0 150 Td (Hi) Tj ET", Rect<SeenSpace>{23.3, 50, 54.9, 79.2}},
  };
  for (auto const& row : rows) {
    INFO(row.content);
    PdfMaker pdf;
    pdf.page().media("[0 0 300 300]").use("Font", "F", pdf.font()).content(std::string("BT /F 40 Tf ") + row.content + rest);
    auto const ink = marks_of(pdf).ink;
    CHECK(ink.has_value() == row.ink.has_value());
    if (row.ink) is_near(ink, *row.ink, 0.5);
  }
}

// The library clips to text that is painted with a pattern as well. Boxes as poppler and Ghostscript draw them.
TEST_CASE("text in a pattern shows the pattern and nothing beside") {
  for (std::string const kind : {"cell", "cells", "shading"})
    for (std::string const mode : {"0", "1", "2", "4"}) {
      INFO(kind << " " << mode);
      PdfMaker pdf;
      auto const pattern = kind == "shading" ? pdf.object(
                                                   "<< /PatternType 2 /Shading << /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 300 0] /Extend "
                                                   "[true true] /Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [0.5] /N 1 >> >> >>")
                                             : pdf.stream("/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 300 300] /Resources << >> /XStep " +
                                                              std::string(kind == "cell" ? "300" : "7") + " /YStep 300",
                                                          "1 0 0 rg 0 0 300 300 re f");
      pdf.page()
          .media("[0 0 300 300]")
          .use("Font", "F", pdf.font())
          .use("Pattern", "P", pattern)
          .content("q /Pattern cs /Pattern CS /P scn /P SCN BT /F 40 Tf " + mode + " Tr 20 200 Td (Hi) Tj 0 -120 Td (Hi) Tj ET" +
                   (mode == "4" ? " 0 0 300 300 re f Q" : " Q"));
      is_near(marks_of(pdf).ink, Rect<SeenSpace>{23.3, 80, 54.9, 229.2}, mode == "1" || mode == "2" ? 1.1 : 0.5);
    }
}
