// layer.differs: ISO 32000-1, 8.11.4.5 (a usage counts only where an AS entry asks for it; readers differ). The rules: tests/marks/layers_test.cpp.
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

std::string page_of(std::string const& usage, std::string const& configuration, PdfMaker& pdf) {
  auto const layer = pdf.object("<< /Type /OCG /Name (Draft) " + usage + " >>");
  pdf.catalog("OCProperties", "<< /OCGs [" + layer.text() + "] /D << " + configuration + " >> >>");
  pdf.page().use("Properties", "A", layer).content("/OC /A BDC 1 0 0 rg 72 144 72 72 re f EMC 0 0 1 rg 300 200 50 50 re f");
  return layer.text();
}

}  // namespace

TEST_CASE("layer.differs tells what and where") {
  PdfMaker pdf;
  page_of("/Usage << /Print << /PrintState /OFF >> >>", "", pdf);
  auto const f = ArtPage(pdf).finding("layer.differs");
  CHECK(f.level == Level::note);
  CHECK_THAT(f.message, Contains("Draft prints") && Contains("1.5 in from the left and 2.5 in from below"));
  CHECK(f.where == Rect<SeenSpace>{72, 144, 144, 216});
}

TEST_CASE("layer.differs is silent where all go the same way") {
  PdfMaker on, off;
  page_of("", "", on);
  page_of("/Usage << /Print << /PrintState /ON >> >>", "", off);
  CHECK(ArtPage(on).silent("layer.differs"));
  CHECK(ArtPage(off).silent("layer.differs"));
}
