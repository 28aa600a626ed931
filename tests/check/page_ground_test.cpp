// page.ground: a flat ground behind the art (common practice, no published source: 90 % of the ink's extents).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_maybe_white(std::string const& content, bool white = false) {
  PdfMaker pdf;
  pdf.page().content(content);
  return ArtPage(pdf, white);
}

}  // namespace

TEST_CASE("page.ground tells a box that covers nearly all of the ink, with marks on it") {
  auto const f = page_maybe_white("1 0 0 rg 100 100 200 200 re f 0 g 150 150 50 50 re f").finding("page.ground");
  CHECK_THAT(f.message, Contains("coloured"));
  CHECK(number(f.measured, "share_pct") == Approx(100));
  CHECK(lies_on(f.where, {100, 100, 300, 300}));
  // The ink reaches a little beyond the box: 200 of 222 points wide, then 200 of 223.
  CHECK(page_maybe_white("1 0 0 rg 100 100 200 200 re f 0 g 300 150 22 50 re f").findings("page.ground").size() == 1);
  CHECK(page_maybe_white("1 0 0 rg 100 100 200 200 re f 0 g 300 150 23 50 re f").silent("page.ground"));
}

TEST_CASE("page.ground passes over a box that is all there is, or that comes last, or is white on bare film") {
  CHECK(page_maybe_white("1 0 0 rg 100 100 200 200 re f").silent("page.ground"));
  CHECK(page_maybe_white("0 g 150 150 50 50 re f 1 0 0 rg 100 100 200 200 re f").silent("page.ground"));
  CHECK(page_maybe_white("1 g 100 100 200 200 re f 0 g 150 150 50 50 re f").silent("page.ground"));
  CHECK_THAT(page_maybe_white("1 g 100 100 200 200 re f 0 g 150 150 50 50 re f", true).finding("page.ground").message, Contains("white"));
}
