// ink.island: pieces of ink that weeding tears away (common practice, no published source: 0.5 pt wide and a square of 0.7 pt at least).
#include "check/art_view.h"
#include "raster/weed_scan.h"

using namespace layright;
using namespace layright::test;

namespace {

struct IslandShape {
  char const* what;
  double limit;                      // as printed
  std::string (*draw)(double size);  // of this size on the page
};

}  // namespace

TEST_CASE("ink.island fires below its limits and not above them, however the page is shown") {
  static constexpr IslandShape kShapes[] = {
      {"a bar alone", 0.5, [](double s) { return filled_box(100, 100, 90, s); }},
      {"a bar on a block", 0.5, [](double s) { return filled_box(50, 100, 60, 60) + filled_box(100, 120, 90, s); }},
      {"a slanting line", 0.5, [](double s) { return real(s) + " w 100 100 m 180 151 l S "; }},
      {"a dot", 1.4, [](double s) { return filled_box(100, 100, s, s); }},
  };
  for (auto const& shape : kShapes)
    for (auto const& shown : kShown) {
      CAPTURE(shape.what, shown.rotate, shown.unit, shown.percent);
      auto const page = [&](double printed) {
        PdfMaker pdf;
        pdf.page().rotate(shown.rotate).user_unit(shown.unit).content(filled_box(300, 300, 100, 100) + shape.draw(printed / shown.factor));
        ArtPage art(pdf, false, shown.percent);
        art.target.limits.weed_square = Length::points(1.4);
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
  std::string content = filled_box(50, 50, 100, 100);
  for (int k = 0; k < 30; ++k) content += filled_box(200 + 10 * k, 300, 0.75, 0.75);
  content += filled_box(60, 500, 0.24, 30);
  pdf.page().content(content);
  ArtPage art(pdf);
  art.target.limits.weed_square = Length::points(1.4);
  auto const f = art.read_weed().finding("ink.island");
  CHECK(number(f.measured, "count") == 31);
  CHECK(number(f.measured, "width_pt") == Approx(0.24).margin(0.13));
  CHECK(number(f.measured, "area_pt2") == Approx(0.5625).margin(0.2));
  CHECK(lies_on(f.where, {60, 500, 60.24, 530}));
  REQUIRE(f.places.size() == kMostArtPlaces - 1);
  for (auto const& place : f.places) CHECK((place.y0 > 299.5 && place.y1 < 301.5 && place.x0 > 199.5));
  CHECK_THAT(f.message, Contains("31 pieces"));
  CHECK_THAT(f.message, Contains("the finest, a hair, 0.24 pt wide, lies 0.834 in from the left and 7.153 in from below"));
}

TEST_CASE("ink.island and ink.gap say nothing of ordinary text of a size that weeds") {
  for (auto const* font : {"Helvetica", "Helvetica-Bold", "Times-Roman", "Courier"}) {
    for (int size : {8, 9, 10, 11, 12, 14, 18, 24, 36}) {
      if (std::string_view(font) == "Times-Roman" && size < 12) continue;  // its hair lines are thinner than 0.25 pt
      CAPTURE(font, size);
      PdfMaker pdf;
      pdf.page()
          .use("Font", "F", pdf.font(font))
          .content("BT /F " + std::to_string(size) +
                   " Tf 20 500 Td (Quillowfen print room fijx) Tj 0 -60 Td (the quick brown fox) Tj "
                   "0 -60 Td (jumps 0123456789 & more) Tj ET");
      ArtPage art(pdf);
      art.read_weed();
      CHECK(art.silent("ink.island"));
      CHECK(art.silent("ink.gap"));
    }
  }
}

TEST_CASE("ink.island tells a short hair alone, a long one that hangs on something, and no short one that does") {
  auto const page = [](std::string const& hair) {
    PdfMaker pdf;
    pdf.page().content(filled_box(50, 50, 100, 100) + hair);
    ArtPage art(pdf);
    art.read_weed();
    return art;
  };
  CHECK(page(filled_box(100, 149, 0.3, 6)).silent("ink.island"));                // 5 pt beyond the block
  CHECK(page(filled_box(100, 149, 0.3, 8)).findings("ink.island").size() == 1);  // 7 pt
  CHECK(page(filled_box(100, 200, 0.3, 2)).findings("ink.island").size() == 1);
  CHECK(page(filled_box(100, 200, 0.2, 0.2)).silent("ink.island"));  // dust
}

TEST_CASE("ink.island and ink.gap call art of dots what it is, and stop counting") {
  PdfMaker pdf;
  std::string dots = "q 2 0 0 2 0 0 cm ";
  for (int y = 0; y < 60; ++y)
    for (int x = 0; x < 60; ++x) dots += filled_box(50 + 0.6 * x, 50 + 0.6 * y, 0.15, 0.15);
  pdf.page().content(dots + "Q ");
  auto const f = ArtPage(pdf).read_weed().finding("ink.island");
  CHECK(number(f.measured, "count") == 3600);
  CHECK_THAT(f.message, Contains("art of dots"));
  // A checkerboard of pixels of the press: more than anyone counts.
  PdfMaker fine;
  constexpr int kSide = 1200;
  std::vector<std::uint8_t> samples;
  for (int k = 0; k < kSide * kSide; ++k) samples.push_back((k % kSide + k / kSide) % 2 == 0 ? 0 : 255);
  fine.page().use("XObject", "I", fine.image_gray(kSide, kSide, samples)).content("q 144 0 0 144 50 50 cm /I Do Q");
  auto const many = ArtPage(fine).read_weed().finding("ink.gap");
  CHECK(number(many.measured, "count") >= kMostWeedPieces);
  CHECK_THAT(many.message, Contains("more than "));
  CHECK_THAT(many.message, Contains("art of dots"));
}

TEST_CASE("ink.island follows how the page is seen, and the press") {
  PdfMaker pdf;
  pdf.page().rotate("90").user_unit("2").content(filled_box(50, 50, 100, 100) + filled_box(100, 200, 0.1, 40));
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
  pdf.page().content("0 g " + filled_box(50, 50, 100, 100) + "1 g " + filled_box(200, 200, 0.25, 40));
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

TEST_CASE("art clipped to areas without pixels, in each other, is looked at as any other") {
  // The library's painter breaks the process there: a clip of no height, of one between two pixels, of two lines, off the page, in a pattern
  // cell, in a group, and in each other. On every place against the bands' edges.
  static constexpr char const* kClips[] = {"100 100 50 0 re W n",
                                           "100 100 50 0.01 re W n",
                                           "100 100 m 200 100 l 100 150 m 200 150 l W n",
                                           "-500 -500 10 10 re W n",
                                           "100 100 m W n",
                                           "100 100 0.02 300 re W n",
                                           "100 100 m 300 300 l W n",
                                           "0 0 1 1 re -0.5 9000 2 2 re W n"};
  for (auto const* outer : kClips)
    for (auto const* inner : kClips) {
      CAPTURE(outer, inner);
      PdfMaker pdf;
      pdf.page()
          .use("Font", "F", pdf.font("Helvetica"))
          .content(filled_box(50, 50, 100, 100) + filled_box(300, 300, 0.3, 30) + "q " + outer + " q " + inner +
                   " 90 90 300 300 re f q 7 Tr BT /F 40 Tf 100 100 Td (A) Tj ET "
                   "100 100 50 50 re f Q 3 w 100 100 m 200 200 l S Q Q ");
      CHECK(ArtPage(pdf).read_weed().findings("ink.island").size() >= 1);
    }
}

// DESIGN rule 9: half a percent is ink, but in a page with a picture whose white is noisy.
TEST_CASE("weeding takes a faint tint for ink, but not the noise of a picture's white") {
  auto const page = [](std::string const& tint, bool noisy) {
    PdfMaker pdf;
    std::vector<std::uint8_t> gray(40 * 40, 255);
    for (std::size_t i = 0; i < gray.size(); ++i) gray[i] = static_cast<std::uint8_t>(noisy ? 252 + i * 7 % 4 : 255);
    gray[20 * 40 + 20] = 0;
    pdf.page()
        .use("XObject", "I", pdf.image_gray(40, 40, gray))
        .content("q 200 0 0 200 300 500 cm /I Do Q 0 g " + filled_box(300, 300, 100, 100) + tint + " g " + filled_box(100, 100, 90, 0.3));
    ArtPage art(pdf);
    art.read_weed();
    return art;
  };
  CHECK(page("0.985", false).finding("ink.island").level == Level::note);
  CHECK(page("0.998", false).silent("ink.island"));
  CHECK(page("0.985", true).silent("ink.island"));
}
