// page.blend: transparency on its way to a PostScript press (ISO 32000-1, 11).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_in_state(std::string const& state) {
  PdfMaker pdf;
  pdf.page().use("ExtGState", "G", "<< " + state + " >>").content("0 g 40 40 90 90 re f /G gs 1 0 0 rg 50 50 30 30 re f");
  ArtPage page(pdf);
  page.target.press.ppd = "bench.ppd";
  return page;
}

}  // namespace

TEST_CASE("page.blend tells what PostScript cannot do, for a press that is driven by a PPD") {
  CHECK_THAT(page_in_state("/ca 0.5").finding("page.blend").message, Contains("half-clear"));
  CHECK_THAT(page_in_state("/BM /Multiply").finding("page.blend").message, Contains("Multiply"));
  CHECK_THAT(page_in_state("/BM /Screen").finding("page.blend").message, Contains("Screen"));
  CHECK(page_in_state("/ca 1 /BM /Normal").silent("page.blend"));
  auto page = page_in_state("/ca 0.5");
  page.target.press.ppd.clear();
  CHECK(page.silent("page.blend"));
}
