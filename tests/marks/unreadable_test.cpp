// What the library cannot read, passes over or draws by chance: the page is then told as not wholly read, and what comes behind it counts. Extents are
// worked out by hand from the operators.
#include <zlib.h>

#include <string>

#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;
using std::string_literals::operator""s;

namespace {

void check_reaches(Marks const& marks, double x0, double y0, double x1, double y1) {
  REQUIRE(marks.ink.has_value());
  INFO("ink " << marks.ink->x0 << " " << marks.ink->y0 << " " << marks.ink->x1 << " " << marks.ink->y1);
  CHECK(marks.ink->x0 <= x0 + 0.5);
  CHECK(marks.ink->y0 <= y0 + 0.5);
  CHECK(marks.ink->x1 >= x1 - 0.5);
  CHECK(marks.ink->y1 >= y1 - 0.5);
}

}  // namespace

TEST_CASE("unreadable: an inline picture that cannot be read is reported, counts as ink, and the page goes on behind it") {
  std::string const pixels(192, 'p');
  struct Row {
    char const* dictionary;
    std::string data;
  };
  auto const row = GENERATE_COPY(values<Row>({
      {"/W 8 /H 8 /BPC 8 /CS /NullSink", pixels},
      {"/W 8 /H 8 /BPC 8 /CS [/Indexed /NullSink 1 (abc)]", pixels},
      {"/W 8 /H 8 /BPC 8 /CS 7", pixels},
      {"/W -8 /H 8 /BPC 8 /CS /RGB", pixels},
      {"/W 0 /H 8 /BPC 8 /CS /RGB", pixels},
      {"/H 8 /BPC 8 /CS /RGB", pixels},
      {"/W 8 /H 8 /BPC 99 /CS /RGB", pixels},
      {"/W 99999999 /H 99999999 /BPC 8 /CS /RGB", pixels},
      {"/W 8 /H 8 /BPC 8 /CS /RGB /F /DCT", "no JPEG"s},
      {"/W 8 /H 8 /BPC 8 /CS /RGB /F /JPXDecode", "no JPEG 2000"s},
      {"", pixels},
      {"/W 8 /H 8 /BPC 8 /CS /RGB", "too few"s},
  }));
  for (bool const in_form : {false, true}) {
    CAPTURE(row.dictionary, in_form);
    auto const content = "20 20 30 30 re f q 200 0 0 150 100 100 cm BI "s + row.dictionary + " ID " + row.data + "\nEI Q 340 20 30 30 re f";
    PdfMaker pdf;
    if (in_form) pdf.page().use("XObject", "F", pdf.form("[0 0 612 792]", content, "/Resources << >>")).content("/F Do");
    else pdf.page().content(content);
    auto const marks = marks_of(pdf);
    CHECK_FALSE(marks.whole);
    CHECK_FALSE(marks.trouble.empty());
    check_reaches(marks, 20, 20, 370, 250);
  }
}

TEST_CASE("unreadable: sound inline pictures, and words that look like one, change nothing") {
  PdfMaker pdf;
  pdf.page()
      .use("Font", "F1", pdf.font())
      .content("BT /F1 9 Tf 20 20 Td (BI ID EI) Tj ET % BI\n/BI BMC EMC q 20 0 0 20 50 50 cm BI /W 1 /H 1 /BPC 8 /CS /G ID \x01\nEI Q");
  auto const marks = marks_of(pdf);
  CHECK(marks.whole);
  check_reaches(marks, 50, 50, 70, 70);
}

TEST_CASE("unreadable: patterns that readers show differently are reported") {
  struct Row {
    char const* entries;
    bool odd;
  };
  // ISO 32000-1, 8.7.3.1: box and steps are required, no step is 0, either may be negative.
  auto const row = GENERATE(values<Row>({
      {"/BBox [0 0 40 40] /XStep 40 /YStep 40", false},
      {"/BBox [40 40 0 0] /XStep 40 /YStep 40", false},
      {"/BBox [0 0 40 40] /XStep -40 /YStep -40", false},
      {"/BBox [0 0 40 40] /XStep 40 /YStep 40 /Matrix [-1 0 0 1 0 0]", false},
      {"/BBox [0 0 40 40] /XStep 0 /YStep 40", true},
      {"/BBox [0 0 40 40]", true},
      {"/XStep 40 /YStep 40", true},
      {"/BBox [0 0 40] /XStep 40 /YStep 40", true},
      {"/BBox [(a) 0 40 40] /XStep 40 /YStep 40", true},
      {"/BBox [0 0 40 40] /XStep (a) /YStep 40", true},
      {"/BBox [0 0 40 40] /XStep 40 /YStep 40 /Matrix [1 0]", true},
      {"/BBox [0 0 40 40] /XStep 40 /YStep 40 /Matrix [0 0 0 0 0 0]", true},
      {"/BBox [0 0 0.001 0.001] /XStep 0.001 /YStep 0.001", true},
      {"/BBox [0 0 40 40] /XStep 40 /YStep 40 /Matrix [1000000 0 0 1000000 0 0]", true},
  }));
  CAPTURE(row.entries);
  PdfMaker pdf;
  auto const pattern =
      pdf.stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /Resources << >> "s + row.entries, "0 0 1 rg 0 0 20 20 re f");
  pdf.page().use("Pattern", "P", pattern).content("20 20 30 30 re f /Pattern cs /P scn 100 100 200 150 re f");
  auto const marks = marks_of(pdf);
  CHECK(marks.whole == !row.odd);
  if (row.odd) CHECK(marks.trouble.find("pattern") != std::string::npos);
}

TEST_CASE("unreadable: filters that there are not, and spoiled data, are reported") {
  for (char const* filter : {"/FooDecode", "[/FooDecode /FlateDecode]", "/ASCIIHexDecode", "/ASCII85Decode", "/BrotliDecode"}) {
    CAPTURE(filter);
    PdfMaker pdf;
    auto const picture = pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 8 /ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter "s + filter,
                                    std::string(192, '\x7e') + "zz");
    pdf.page().use("XObject", "I", picture).content("20 20 30 30 re f q 200 0 0 150 100 100 cm /I Do Q");
    auto const marks = marks_of(pdf);
    CHECK_FALSE(marks.whole);
    check_reaches(marks, 20, 20, 300, 250);
  }
}

TEST_CASE("unreadable: a JBIG2 picture that is cut between or inside its segments is reported") {
  // ITU-T T.88, 7.2 and 7.4 (from memory): a page of 8 x 8, and a region whose 12 bytes of data are not all there.
  auto const page_segment = "\0\0\0\0\x30\0\x01\0\0\0\x13\0\0\0\x08\0\0\0\x08\0\0\0\0\0\0\0\0\0\0\0"s;
  auto const region = "\0\0\0\x01\x26\0\x01\0\0\0\x1e\0\0\0\x08\0\0\0\x08\0\0\0\0\0\0\0\0\0\x01"s;
  for (auto const& data : {page_segment + region, page_segment + region.substr(0, 7), page_segment.substr(0, 20)}) {
    PdfMaker pdf;
    auto const picture =
        pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 8 /ColorSpace /DeviceGray /BitsPerComponent 1 /Filter /JBIG2Decode", data);
    pdf.page().use("XObject", "I", picture).content("q 200 0 0 150 100 100 cm /I Do Q");
    auto const marks = marks_of(pdf);
    CHECK_FALSE(marks.whole);
    check_reaches(marks, 100, 100, 300, 250);
  }
}

namespace {

/// As zlib packs it (RFC 1950), without its last bytes.
std::string packed(std::string const& text, std::size_t without) {
  std::string made(compressBound(text.size()), '\0');
  uLongf size = made.size();
  REQUIRE(compress(reinterpret_cast<Bytef*>(made.data()), &size, reinterpret_cast<Bytef const*>(text.data()), text.size()) == Z_OK);
  REQUIRE(without < size);
  return made.substr(0, size - without);
}

std::string many_squares() {
  std::string made;
  for (int i = 0; i < 400; ++i) made += std::to_string(20 + i * 37 % 500) + " " + std::to_string(20 + i * 53 % 700) + " 9 9 re f\n";
  return made;
}

}  // namespace

TEST_CASE("unreadable: packed operators that end before their end are reported, wherever the page shows them") {
  auto const squares = many_squares();
  // Half of the data; all but the last bytes of them; nothing lost but some of the checksum (the last four bytes), or nothing.
  auto const [without, whole] =
      GENERATE_COPY(table<std::size_t, bool>({{packed(squares, 0).size() / 2, false}, {12, false}, {4, true}, {1, true}, {0, true}}));
  auto const where = GENERATE("page", "second of two", "form", "form in a form", "pattern", "letter", "soft mask", "annotation", "nowhere");
  CAPTURE(without, where);
  std::string const place = where, filter = "/Filter /FlateDecode", data = packed(squares, without);
  std::string const box = "/Type /XObject /Subtype /Form /BBox [0 0 612 792] /Resources << >> ";
  PdfMaker pdf;
  auto& page = pdf.page();
  auto const part = [&](std::string const& entries) { return pdf.stream(entries + filter, data); };
  if (place == "page") page.entry("Contents", pdf.stream(filter, data).text());
  else if (place == "second of two")
    page.entry("Contents", "[" + pdf.stream("", "0 0 1 rg 30 30 9 9 re f").text() + " " + pdf.stream("/Filter [/FlateDecode]", data).text() + "]");
  else if (place == "form") page.use("XObject", "F", part(box)).content("/F Do");
  else if (place == "form in a form")
    page.use("XObject", "F", pdf.form("[0 0 612 792]", "/G Do", "/Resources << /XObject << /G " + part(box).text() + " >> >>")).content("/F Do");
  else if (place == "pattern")
    page.use("Pattern", "P",
             part("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 612 792] /XStep 612 /YStep 792 /Resources << >> "))
        .content("/Pattern cs /P scn 0 0 612 792 re f");
  else if (place == "letter")
    page.use("Font", "T",
             pdf.object("<< /Type /Font /Subtype /Type3 /FontBBox [0 0 612 792] /FontMatrix [1 0 0 1 0 0] /FirstChar 97 /LastChar 97 /Widths [612] "
                        "/Encoding << /Differences [97 /a] >> /Resources << >> /CharProcs << /a " +
                        pdf.stream(filter, packed("612 0 d0 " + squares, without)).text() + " >> >>"))
        .content("BT /T 1 Tf (a) Tj ET");
  else if (place == "soft mask")
    page.use("ExtGState", "S", "<< /SMask << /S /Alpha /G " + part(box + "/Group << /S /Transparency /CS /DeviceGray >> ").text() + " >> >>")
        .content("/S gs 0 0 612 792 re f");
  else if (place == "annotation")
    page.content("30 30 9 9 re f").annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [0 0 612 792] /AP << /N " + part(box).text() + " >>");
  else page.content("30 30 9 9 re f").entry("Unused", part(box).text());
  auto const marks = marks_of(pdf);
  CHECK(marks.whole == (whole || place == "nowhere"));
  CHECK(marks.trouble.empty() == marks.whole);
  CHECK(marks.ink.has_value());
}
