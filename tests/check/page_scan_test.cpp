// page.scan: a page that is one picture (common practice, no published source: 90 % of the ink's extents).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_scan(std::string const& content) {
  PdfMaker pdf;
  auto const image = pdf.image_gray(20, 20, std::vector<std::uint8_t>(400, 90));
  pdf.page().use("XObject", "P", image).use("Font", "F", pdf.font()).content(content);
  return ArtPage(pdf);
}

std::string const kScan = "q 500 0 0 500 50 60 cm /P Do Q ";

}  // namespace

TEST_CASE("page.scan tells a page that is a picture and nothing else") {
  auto const f = page_with_scan(kScan).finding("page.scan");
  CHECK(lies_on(f.where, {50, 60, 550, 560}));
  CHECK(page_with_scan(kScan + "0 g 100 100 9 9 re f").silent("page.scan"));
  CHECK(page_with_scan(kScan + "BT /F 20 Tf 60 70 Td (Wren) Tj ET").silent("page.scan"));
  CHECK(page_with_scan(kScan + "BT 3 Tr /F 20 Tf 60 70 Td (Wren) Tj ET").findings("page.scan").size() == 1);  // a layer of text that was recognised
}

TEST_CASE("page.scan passes over pictures that only share the page, on both sides of its limit") {
  CHECK(page_with_scan(kScan + "q 50 0 0 50 550 60 cm /P Do Q").findings("page.scan").size() == 1);  // 500 of 550 points: 91 %
  CHECK(page_with_scan(kScan + "q 60 0 0 50 550 60 cm /P Do Q").silent("page.scan"));                // 500 of 560: 89 %
}
