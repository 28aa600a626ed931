// colour.twin: one spot colour under two names (common practice, no published source).
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_two_inks(std::string const& a, std::string const& a_cmyk, std::string const& b, std::string const& b_cmyk) {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "A", separation(a, a_cmyk))
      .use("ColorSpace", "B", separation(b, b_cmyk))
      .content("/A cs 1 sc 50 50 10 10 re f /B cs 1 sc 70 50 10 10 re f");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("colour.twin tells names that are the same but for case and blanks, and stand-ins that are the same") {
  auto const f = page_with_two_inks("Fern#203", "0.5 0 1 0", "FERN-3", "0.9 0 1 0").finding("colour.twin");
  CHECK_THAT(f.message, Contains("Fern 3") && Contains("FERN-3"));
  CHECK(lies_on(f.where, {70, 50, 80, 60}));
  CHECK(page_with_two_inks("Fern", "0.5 0 1 0", "Meadow", "0.5 0 1 0").findings("colour.twin").size() == 1);
  CHECK(page_with_two_inks("Fern", "0.5 0 1 0", "Meadow", "0.505 0 1 0").findings("colour.twin").size() == 1);
  CHECK(page_with_two_inks("Fern", "0.5 0 1 0", "Meadow", "0.52 0 1 0").silent("colour.twin"));
  CHECK(page_with_two_inks("Fern", "0.5 0 1 0", "Fern", "0.5 0 1 0").silent("colour.twin"));
}
