// font.type: text in Type 3 fonts (ISO 32000-1, 9.6.5).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_type3(std::string const& begin, std::string const& shown) {
  PdfMaker pdf;
  auto const flag = pdf.stream("", begin + " 100 0 100 700 re f 200 400 300 300 re f");
  auto const font =
      pdf.object("<< /Type /Font /Subtype /Type3 /FontBBox [0 0 600 700] /FontMatrix [0.001 0 0 0.001 0 0] /CharProcs << /flag " + flag.text() +
                 " >> /Encoding << /Type /Encoding /Differences [97 /flag] >> /FirstChar 97 /LastChar 97 /Widths [600] /Resources << >> >>");
  pdf.page().use("Font", "F", font).use("Font", "H", pdf.font()).content("0 g BT " + shown + " ET");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("font.type counts letters of Type 3 fonts, in the text's colour and in their own") {
  for (auto const* begin : {"600 0 0 0 600 700 d1", "600 0 d0 1 0 0 rg"}) {
    CAPTURE(begin);
    auto const f = page_with_type3(begin, "/F 20 Tf 50 60 Td (aaa) Tj").finding("font.type");
    CHECK(number(f.measured, "count") == 3);
    REQUIRE(f.where);
    CHECK(Rect<SeenSpace>{49, 55, 90, 80}.contains(*f.where));
  }
  CHECK(page_with_type3("600 0 0 0 600 700 d1", "/H 20 Tf 50 60 Td (aaa) Tj").silent("font.type"));
}

TEST_CASE("the size of a Type 3 letter is told by its height") {
  // 700 of 1000 units high: as high as a capital of 5 pt.
  CHECK(number(page_with_type3("600 0 0 0 600 700 d1", "/F 5 Tf 50 60 Td (a) Tj").finding("text.small").measured, "em_pt") == Approx(5).margin(0.1));
  CHECK(page_with_type3("600 0 0 0 600 700 d1", "/F 7 Tf 50 60 Td (a) Tj").silent("text.small"));
}
