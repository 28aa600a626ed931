// colour.transfer: ISO 32000-1, 10.4. What the functions do: tests/marks/transfer_test.cpp.
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("colour.transfer counts marks under a transfer function that changes tints") {
  auto const page = [](std::string const& state) {
    PdfMaker pdf;
    pdf.page().use("ExtGState", "T", state).content("/T gs 0.5 g 72 144 72 72 re f");
    return ArtPage(pdf);
  };
  auto const f = page("<< /TR << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >> >>").finding("colour.transfer");
  CHECK(number(f.measured, "count") == 1);
  CHECK_THAT(f.message, Contains("1.5 in from the left and 2.5 in from below"));
  CHECK(page("<< /TR /Identity >>").silent("colour.transfer"));
  CHECK(page("<< /TR2 /Default >>").silent("colour.transfer"));
  CHECK(page("<< /TR << /FunctionType 2 /Domain [0 1] /N 1 >> >>").silent("colour.transfer"));
}
