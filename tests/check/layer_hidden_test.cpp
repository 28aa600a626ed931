// layer.hidden: ISO 32000-1, 8.11.4.3: the default configuration's OFF array.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("layer.hidden names layers that do not print") {
  PdfMaker pdf;
  pdf.page();
  auto const art = pdf.object("<< /Type /OCG /Name (Art) >>"), draft = pdf.object("<< /Type /OCG /Name (Draft) >>");
  std::string const all = "[" + art.text() + " " + draft.text() + "]";
  SECTION("all on") {
    pdf.catalog("OCProperties", "<< /OCGs " + all + " /D << /ON " + all + " >> >>");
    CHECK(OpenFile(pdf.bytes()).silent("layer.hidden"));
  }
  SECTION("no layers") { CHECK(OpenFile(pdf.bytes()).silent("layer.hidden")); }
  SECTION("one off") {
    pdf.catalog("OCProperties", "<< /OCGs " + all + " /D << /OFF [" + draft.text() + "] >> >>");
    auto const f = OpenFile(pdf.bytes()).finding("layer.hidden");
    CHECK(f.level == Level::note);
    CHECK_THAT(f.message, Contains("1 layer does not print") && Contains("Draft"));
  }
}

TEST_CASE("layer.hidden does not list a hundred names") {
  PdfMaker pdf;
  pdf.page();
  std::string all;
  for (int i = 0; i < 100; ++i) all += pdf.object("<< /Type /OCG /Name (Layer" + std::to_string(i) + ") >>").text() + " ";
  pdf.catalog("OCProperties", "<< /OCGs [" + all + "] /D << /BaseState /OFF >> >>");
  auto const f = OpenFile(pdf.bytes()).finding("layer.hidden");
  CHECK(number(f.measured, "count") == 100);
  CHECK_THAT(f.message, Contains("90 more") && !Contains("Layer50"));
}
