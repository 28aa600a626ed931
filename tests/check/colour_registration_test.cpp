// colour.registration: art in the ink All (ISO 32000-1, 8.6.6.4).
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_registration(std::string const& content, bool trim = true) {
  PdfMaker pdf;
  auto& page = pdf.page().use("ColorSpace", "A", separation("All", "1 1 1 1")).content(content);
  if (trim) page.trim("[36 36 576 756]");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("colour.registration holds art in it, and tells marks beyond the trim") {
  auto const held = page_with_registration("/A cs 1 sc 100 100 50 50 re f").finding("colour.registration");
  CHECK(held.level == Level::hold);
  CHECK(lies_on(held.where, {100, 100, 150, 150}));
  auto const reported =
      page_with_registration("0 g 100 100 50 50 re f /A CS 1 SC 0.5 w 0 36 m 24 36 l S 36 0 m 36 24 l S").finding("colour.registration");
  CHECK(reported.level == Level::note);
  CHECK(number(reported.measured, "count") == 2);
  CHECK(page_with_registration("/A cs 1 sc 10 10 20 20 re f", false).finding("colour.registration").level == Level::hold);
}

TEST_CASE("colour.registration passes over no ink, and black that is only all four") {
  CHECK(page_with_registration("0 g 9 9 9 9 re f /A cs 0 sc 100 100 50 50 re f").silent("colour.registration"));
  CHECK(page_with_registration("1 1 1 1 k 100 100 50 50 re f").silent("colour.registration"));
}
