// ink.island: pieces of ink that weeding tears away (common practice, no published source: 0.5 pt wide and a square of 1.4 pt at least).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

constexpr double kPixel = 72.0 / 600;  // of a press that says nothing of its resolution, in points as printed

struct Shape {
  char const* what;
  double limit;                            // as printed
  std::string (*draw)(double size);        // of this size on the page
};
std::string box(double x, double y, double w, double h) { return real(x) + " " + real(y) + " " + real(w) + " " + real(h) + " re f "; }

}  // namespace

TEST_CASE("ink.island fires below its limits and not above them, however the page is shown") {
  static constexpr Shape kShapes[] = {
      {"a bar alone", 0.5, [](double s) { return box(100, 100, 90, s); }},
      {"a bar on a block", 0.5, [](double s) { return box(50, 100, 60, 60) + box(100, 120, 90, s); }},
      {"a slanting line", 0.5, [](double s) { return real(s) + " w 100 100 m 180 151 l S "; }},
      {"a dot", 1.4, [](double s) { return box(100, 100, s, s); }},
  };
  for (auto const& shape : kShapes)
    for (auto const& shown : kShown) {
      CAPTURE(shape.what, shown.rotate, shown.unit, shown.percent);
      auto const page = [&](double printed) {
        PdfMaker pdf;
        pdf.page().rotate(shown.rotate).user_unit(shown.unit).content(box(300, 300, 100, 100) + shape.draw(printed / shown.factor));
        ArtPage art(pdf, false, shown.percent);
        art.read_weed();
        return art;
      };
      CHECK(page(shape.limit + 2 * kPixel).silent("ink.island"));
      CHECK(page(shape.limit).silent("ink.island"));
      auto const f = page(shape.limit - 2 * kPixel).finding("ink.island");
      CHECK(number(f.measured, "count") == 1);
      if (shape.limit == 0.5) CHECK(number(f.measured, "width_pt") == Approx(0.5 - 2 * kPixel).margin(kPixel));
      if (shape.limit == 1.4) CHECK(number(f.measured, "area_pt2") == Approx(std::pow(1.4 - 2 * kPixel, 2)).margin(0.3));
    }
}

TEST_CASE("ink.island tells where, how many and the worst") {
  PdfMaker pdf;
  std::string content = box(50, 50, 100, 100);
  for (int k = 0; k < 30; ++k) content += box(200 + 10 * k, 300, 0.75, 0.75);
  content += box(60, 500, 0.24, 30);
  pdf.page().content(content);
  auto const f = ArtPage(pdf).read_weed().finding("ink.island");
  CHECK(number(f.measured, "count") == 31);
  CHECK(number(f.measured, "width_pt") == Approx(0.24).margin(0.13));
  CHECK(number(f.measured, "area_pt2") == Approx(0.5625).margin(0.2));
  CHECK(lies_on(f.where, {60, 500, 60.24, 530}));
  REQUIRE(f.places.size() == kMostArtPlaces - 1);
  for (auto const& place : f.places) CHECK((place.y0 > 299.5 && place.y1 < 301.5 && place.x0 > 199.5));
  CHECK_THAT(f.message, Contains("31 pieces"));
}

TEST_CASE("ink.island follows how the page is seen, and the press") {
  PdfMaker pdf;
  pdf.page().rotate("90").user_unit("2").content(box(50, 50, 100, 100) + box(100, 200, 0.1, 40));
  // Turned clockwise x is y, and y is the width less x; all twice as large.
  CHECK(lies_on(ArtPage(pdf).read_weed().finding("ink.island").where, {400, 1023.8, 480, 1024}));
  Press press;
  CHECK(press_dpi(press) == 600);
  for (auto const& [text, dpi] : {std::pair("1200dpi", 1200.0), {"600x1200dpi", 600.0}, {"200dpcm", 508.0}, {"finest", 600.0}}) {
    press.printer_resolution = text;
    CHECK(press_dpi(press) == Approx(dpi));
  }
}

TEST_CASE("white paint is no ink, but on a press that lays white") {
  PdfMaker pdf;
  pdf.page().content("0 g " + box(50, 50, 100, 100) + "1 g " + box(200, 200, 0.25, 40));
  CHECK(ArtPage(pdf).read_weed().silent("ink.island"));
  CHECK(lies_on(ArtPage(pdf, true).read_weed().finding("ink.island").where, {200, 200, 200.25, 240}));
}

TEST_CASE("ink.island runs only where somebody asks") {
  Selection s;
  CHECK_FALSE(s.wants_weed({}));
  s.only = {"ink.island"};
  CHECK(s.wants_weed({}));
  CHECK_FALSE(s.wants_inks({}));
  Target target;
  target.levels["ink.gap"] = CheckLevel::hold;
  CHECK(Selection{}.wants_weed(target));
  target.levels["ink.gap"] = CheckLevel::off;
  CHECK_FALSE(Selection{}.wants_weed(target));
}
