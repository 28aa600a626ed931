// white.rim: white near bare ground (common practice, no published source).
#include "check/plated_page.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("white.rim tells cores that lie near the edge") {
  CHECK(PlatedPage(kBlock + "0.4 w 100 400 m 300 400 l S").reported("white.rim").size() == 1);
  CHECK(PlatedPage(kBlock + "3 w 100 400 m 300 400 l S").reported("white.rim").empty());
}

namespace {

/// A red block, and white of the art's own: named as the press names its white, in a stand-in of its own.
std::vector<Finding> rim_of_own(std::string const& white) {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "W", "[/Separation /White /DeviceCMYK <</FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0.2 0 0] /N 1>>]")
      .use("ExtGState", "Over", "<</OP true /op true /OPM 1>>")
      .content("0.8 0.1 0.1 rg 100 100 200 200 re f /Over gs /W cs 1 scn " + white + " re f");
  PlatedPage const page(pdf, {.from = PlateFrom::own});
  return page.reported("white.rim");
}

}  // namespace

TEST_CASE("white.rim tells white of the art's own that reaches to the edge of a color, or past it") {
  CHECK(rim_of_own("102 102 196 196").empty());            // 2 pt inside
  CHECK(rim_of_own("100 100 200 200").size() == 1);        // to the edge
  CHECK(rim_of_own("99.6 99.6 200.8 200.8").size() == 1);  // past it
}

TEST_CASE("white.rim passes over white of the art's own that is meant to be seen beside a color") {
  CHECK(rim_of_own("100 50 200 200").size() == 1);  // below it is meant; at its sides it lies at the edge of the red
  CHECK(rim_of_own("350 100 50 50").empty());       // far off
}
