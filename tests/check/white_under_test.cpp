// white.under: art that the file's own plate of white leaves bare (common practice, no published source: half of white at least).
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

namespace {

/// On a press that lays white. The art's colours overprint the plate, which is painted first, unless `knocks_out`.
ArtPage page_on_white(std::string const& content, char const* rotate = "0", char const* unit = "1", bool white_prints = true,
                      bool knocks_out = false) {
  PdfMaker pdf;
  pdf.page()
      .rotate(rotate)
      .user_unit(unit)
      .use("ColorSpace", "W", separation("White", "0.1 0 0 0"))
      .use("ColorSpace", "F", separation("Fern"))
      .use("ExtGState", "O", knocks_out ? "<< /OP false /op false >>" : "<< /OP true /op true /OPM 1 >>")
      .content("/O gs " + content);
  ArtPage page(pdf, white_prints);
  page.read_inks();
  return page;
}

}  // namespace

TEST_CASE("white.under tells what the plate leaves bare, and where") {
  CHECK(page_on_white("/W cs 1 sc 100 100 200 200 re f 0 1 0 0 k 100 100 200 200 re f").silent("white.under"));
  auto const f = page_on_white("/W cs 1 sc 100 100 200 200 re f 0 1 0 0 k 100 100 300 200 re f /F cs 1 sc 100 400 60 60 re f").finding("white.under");
  CHECK(lies_on(f.where, {300, 100, 400, 300}));
  REQUIRE(f.places.size() == 1);
  CHECK(lies_on(f.places[0], {100, 400, 160, 460}));
  CHECK(number(f.measured, "count") == 2);
  CHECK(number(f.measured, "area_pct") == Approx(100.0 * (100 * 200 + 60 * 60) / (300 * 200 + 60 * 60)).margin(1));
}

TEST_CASE("white.under follows how the page is seen") {
  // Turned clockwise x is y, and y is the width less x; a unit of 2 makes all twice as large.
  CHECK(lies_on(page_on_white("/W cs 1 sc 9 9 30 30 re f 0 1 0 0 k 100 200 60 80 re f", "90").finding("white.under").where, {200, 452, 280, 512}));
  CHECK(
      lies_on(page_on_white("/W cs 1 sc 9 9 30 30 re f 0 1 0 0 k 100 200 60 80 re f", "0", "2").finding("white.under").where, {200, 400, 320, 560}));
}

TEST_CASE("white.under has a limit of tint, and leaves thin strips and faint colours alone") {
  CHECK(page_on_white("/W cs 0.51 sc 100 100 200 200 re f 0 1 0 0 k 100 100 200 200 re f").silent("white.under"));
  CHECK_FALSE(page_on_white("/W cs 0.49 sc 100 100 200 200 re f 0 1 0 0 k 100 100 200 200 re f").silent("white.under"));
  // A plate kept smaller by 3 pt all round; one that stands back by 12 pt at one side.
  CHECK(page_on_white("/W cs 1 sc 103 103 194 194 re f 0 1 0 0 k 100 100 200 200 re f").silent("white.under"));
  CHECK_FALSE(page_on_white("/W cs 1 sc 112 100 188 200 re f 0 1 0 0 k 100 100 200 200 re f").silent("white.under"));
  CHECK(page_on_white("/W cs 1 sc 9 9 30 30 re f 0 0.09 0 0 k 100 100 200 200 re f").silent("white.under"));
  CHECK_FALSE(page_on_white("/W cs 1 sc 9 9 30 30 re f 0 0.11 0 0 k 100 100 200 200 re f").silent("white.under"));
}

TEST_CASE("a colour that does not overprint its white knocks it out") {
  std::string const both = "/W cs 1 sc 100 100 200 200 re f /F cs 1 sc 150 150 100 100 re f";
  CHECK(lies_on(page_on_white(both, "0", "1", true, true).finding("white.under").where, {150, 150, 250, 250}));
  CHECK(page_on_white(both).silent("white.under"));
}

TEST_CASE("white.under needs a plate, a press that lays white, and somebody who asks") {
  CHECK(page_on_white("0 1 0 0 k 100 100 200 200 re f").silent("white.under"));
  CHECK(page_on_white("/W cs 1 sc 9 9 30 30 re f 0 1 0 0 k 100 100 200 200 re f", "0", "1", false).silent("white.under"));
  Selection s;
  CHECK_FALSE(s.wants_inks({}));
  s.only = {"white.under"};
  CHECK(s.wants_inks({}));
}
