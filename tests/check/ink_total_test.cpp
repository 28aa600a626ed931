// ink.total: too much toner at one place (common practice, no published source: 300 %); what each ink covers.
#include "check/art_view.h"
#include "check/separations.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_spot(std::string const& content, std::string const& turn = "0") {
  PdfMaker pdf;
  pdf.page().rotate(turn).use("ColorSpace", "F", separation("Fern")).content(content);
  ArtPage page(pdf);
  page.read_inks();
  return page;
}

double coverage(ArtPage const& page, std::string const& name) {
  for (auto const& ink : page.inks->inks)
    if (ink.name == name) return ink.coverage_pct;
  return -1;
}

}  // namespace

TEST_CASE("ink.total adds the inks at each place, on both sides of its limit") {
  CHECK(page_with_spot("1 1 0.98 0 k 100 100 200 200 re f").silent("ink.total"));
  CHECK(page_with_spot("1 1 1 0 k 100 100 200 200 re f").silent("ink.total"));
  auto const f = page_with_spot("1 1 1 0.05 k 100 100 200 300 re f 1 1 1 1 k 400 500 30 30 re f").finding("ink.total");
  CHECK(number(f.measured, "total_pct") == Approx(400).margin(1));
  CHECK(number(f.measured, "count") == 2);
  CHECK(number(f.measured, "area_pct") == Approx(100.0 * (200 * 300 + 30 * 30) / (612 * 792)).margin(0.2));
  CHECK(lies_on(f.where, {100, 100, 300, 400}));  // the largest patch first
  REQUIRE(f.places.size() == 1);
  CHECK(lies_on(f.places[0], {400, 500, 430, 530}));
}

TEST_CASE("a spot colour is an ink of its own, and places are reported as seen") {
  auto const page = page_with_spot("1 1 1 0 k 100 100 200 200 re f /F cs 1 sc 400 500 60 60 re f", "90");
  CHECK(page.silent("ink.total"));
  CHECK(coverage(page, "Fern") == Approx(100.0 * 60 * 60 / (612 * 792)).margin(0.1));
  CHECK(coverage(page, "Cyan") == Approx(100.0 * 200 * 200 / (612 * 792)).margin(0.1));
  CHECK(coverage(page, "Black") == Approx(0).margin(0.01));
  auto const heavy = page_with_spot("1 1 1 1 k 100 100 200 50 re f", "90");  // turned clockwise: x is y, y is the width less x
  CHECK(lies_on(heavy.finding("ink.total").where, {100, 312, 150, 512}));
}

TEST_CASE("ink.total is silent where nobody asked for the drawing") {
  PdfMaker pdf;
  pdf.page().content("1 1 1 1 k 100 100 200 200 re f");
  CHECK(ArtPage(pdf).silent("ink.total"));
  Selection s;
  CHECK_FALSE(s.wants_inks({}));
  s.only = {"ink.total"};
  CHECK(s.wants_inks({}));
  Target target;
  target.levels = {{"ink.total", CheckLevel::hold}};
  CHECK(Selection{}.wants_inks(target));
  target.levels = {{"ink.total", CheckLevel::off}};
  CHECK_FALSE(Selection{}.wants_inks(target));
}
