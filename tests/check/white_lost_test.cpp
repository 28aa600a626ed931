// white.lost: white parts on a press that lays no white (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;
using Catch::Matchers::Contains;

namespace {
/// Blue with a white square on it and one beside it, on a white page.
PdfMaker owl() {
  PdfMaker pdf;
  pdf.page().content("1 g 0 0 300 300 re f 0 0 0.6 rg 40 40 200 200 re f 1 g 50 50 30 30 re f 250 50 30 30 re f");
  return pdf;
}
}  // namespace

TEST_CASE("white.lost tells white parts where the press lays no white") {
  auto const pdf = owl();
  auto const f = ArtPage(pdf, false).finding("white.lost");
  CHECK(f.level == Level::note);
  CHECK(number(f.measured, "count") == 2);
  CHECK(lies_on(f.where, {50, 50, 80, 80}));
  CHECK_THAT(f.message, Contains("white parts will not print"));
  CHECK(ArtPage(pdf, true).silent("white.lost"));
}

TEST_CASE("white.lost holds where the goods are dark, or the target wants white") {
  auto const pdf = owl();
  ArtPage dark(pdf), white(pdf);
  dark.target.dark_goods = true;
  white.target.white.on = true;
  CHECK(dark.finding("white.lost").level == Level::hold);
  CHECK(white.finding("white.lost").level == Level::hold);
}

TEST_CASE("white.lost passes over a white page behind the art, and a page that is white only") {
  PdfMaker ground, white;
  ground.page().content("1 g 0 0 300 300 re f 0 0 0.6 rg 40 40 200 200 re f");
  white.page().content("1 g 50 50 30 30 re f");
  CHECK(ArtPage(ground, false).silent("white.lost"));
  CHECK(ArtPage(white, false).silent("white.lost"));
}
