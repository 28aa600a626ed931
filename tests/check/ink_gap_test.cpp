// ink.gap: gaps and holes that weeding leaves closed (common practice, no published source: 0.5 pt wide and a square of 0.7 pt at least).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

struct GapShape {
  char const* what;
  double limit;
  std::string (*draw)(double size);
};
/// A block of ink with a hole, by the rule of even and odd (ISO 32000-1, 8.5.3.3.3).
std::string holed(double w, double h) { return "100 100 80 80 re 120 130 " + real(w) + " " + real(h) + " re f* "; }

}  // namespace

TEST_CASE("ink.gap fires below its limits and not above them, however the page is shown") {
  static constexpr GapShape kShapes[] = {
      {"between two blocks", 0.5, [](double s) { return filled_box(100, 100, 50, 60) + filled_box(150 + s, 100, 50, 60); }},
      {"a slit", 0.5, [](double s) { return holed(40, s); }},
      {"a slanting slit", 0.5, [](double s) { return filled_box(100, 100, 90, 90) + "1 G " + real(s) + " w 120 120 m 170 151 l S "; }},
      {"a hole", 1.4, [](double s) { return holed(s, s); }},
  };
  for (auto const& shape : kShapes)
    for (auto const& shown : kShown) {
      CAPTURE(shape.what, shown.rotate, shown.unit, shown.percent);
      auto const page = [&](double printed) {
        PdfMaker pdf;
        pdf.page().rotate(shown.rotate).user_unit(shown.unit).content(shape.draw(printed / shown.factor));
        ArtPage art(pdf, false, shown.percent);
        art.target.limits.weed_square = Length::points(1.4);
        art.read_weed();
        return art;
      };
      CHECK(page(shape.limit + 2 * kPixel).silent("ink.gap"));
      CHECK(page(shape.limit).silent("ink.gap"));
      auto const f = page(shape.limit - 2 * kPixel).finding("ink.gap");
      CHECK(number(f.measured, "count") == 1);
      if (shape.limit == 0.5) CHECK(number(f.measured, "width_pt") == Approx(0.5 - 2 * kPixel).margin(kPixel));
      if (shape.limit == 1.4) CHECK(number(f.measured, "area_pt2") == Approx(std::pow(1.4 - 2 * kPixel, 2)).margin(0.3));
    }
}

TEST_CASE("ink.gap tells where, and leaves wide gaps and the sheet around the art alone") {
  PdfMaker pdf;
  pdf.page().content(filled_box(100, 100, 100, 100) + filled_box(200.3, 100, 100, 100) + filled_box(310, 100, 50, 100) +
                     "400 400 80 80 re 420 430 1 1 re f* ");
  ArtPage art(pdf);
  art.target.limits.weed_square = Length::points(1.4);
  auto const f = art.read_weed().finding("ink.gap");
  CHECK(number(f.measured, "count") == 2);
  CHECK(lies_on(f.where, {200, 100, 200.3, 200}));
  REQUIRE(f.places.size() == 1);
  CHECK(lies_on(f.places[0], {420, 430, 421, 431}));
  CHECK(ArtPage(pdf).read_weed().silent("ink.island"));
}
