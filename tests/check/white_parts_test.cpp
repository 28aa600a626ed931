// white.lost in pictures: parts of paper-white that a press without white leaves out, and what is merely paper (common practice, no published
// source). Each picture is drawn here pixel by pixel, a pixel to the point, so that its parts are known.
#include <cmath>
#include <functional>

#include "check/art_view.h"

using namespace layright;
using namespace layright::test;
using Catch::Matchers::Contains;

namespace {

struct Color {
  std::uint8_t r, g, b, a = 255;
};
constexpr Color kPaper{255, 255, 255}, kRed{200, 20, 30}, kBrown{120, 70, 30}, kBlack{0, 0, 0}, kClear{0, 0, 0, 0}, kCream{255, 244, 214};

/// 120 x 120 pixels.
struct Canvas {
  static constexpr int kSide = 120;
  std::vector<Color> pixels = std::vector<Color>(static_cast<std::size_t>(kSide) * kSide, kPaper);
  Color& at(int x, int y) { return pixels[static_cast<std::size_t>(y) * kSide + static_cast<std::size_t>(x)]; }
  Canvas& fill(Color color, std::function<bool(double, double)> const& inside) {
    for (int y = 0; y < kSide; ++y)
      for (int x = 0; x < kSide; ++x)
        if (inside(x + 0.5, y + 0.5)) at(x, y) = color;
    return *this;
  }
  Canvas& all(Color color) {
    return fill(color, [](double, double) { return true; });
  }
  Canvas& box(Color color, int x0, int y0, int x1, int y1) {
    return fill(color, [=](double x, double y) { return x > x0 && x < x1 && y > y0 && y < y1; });
  }
  Canvas& disc(Color color, double cx, double cy, double radius, double stretch = 1) {
    return fill(color, [=](double x, double y) { return std::hypot((x - cx) / stretch, y - cy) < radius; });
  }
  /// Letters of strokes 5 wide and 24 high.
  Canvas& letter_e(Color color, int x, int y) {
    return box(color, x, y, x + 5, y + 24)
        .box(color, x, y, x + 16, y + 5)
        .box(color, x, y + 10, x + 13, y + 15)
        .box(color, x, y + 19, x + 16, y + 24);
  }
  Canvas& letter_l(Color color, int x, int y) { return box(color, x, y, x + 5, y + 24).box(color, x, y + 19, x + 16, y + 24); }
  /// An A with its hole: two legs and a bar.
  Canvas& letter_a(Color color, int x, int y) {
    return fill(color, [=](double px, double py) {
      double const down = (py - y) / 40, off = std::abs(px - x - 20);
      bool const legs = down > 0 && down < 1 && off < 20 * down + 3 && off > 20 * down - 7;
      return legs || (down > 0.6 && down < 0.75 && off < 20 * down);
    });
  }
};

/// On the page from (100, 200), a pixel to the point.
PdfMaker page_with(Canvas const& canvas, std::string const& matrix = "120 0 0 120 100 200", std::string const& before = "",
                   std::string const& after = "") {
  PdfMaker pdf;
  std::vector<std::uint8_t> rgb, alpha;
  bool clear = false;
  for (auto const& p : canvas.pixels) {
    rgb.insert(rgb.end(), {p.r, p.g, p.b});
    alpha.push_back(p.a);
    clear = clear || p.a < 255;
  }
  std::string const mask = clear ? "/SMask " + pdf.image_gray(Canvas::kSide, Canvas::kSide, alpha).text() : "";
  auto const image = pdf.image_rgb(Canvas::kSide, Canvas::kSide, rgb, mask);
  pdf.page()
      .use("XObject", "P", image)
      .use("ExtGState", "Half", "<< /ca 0.5 >>")
      .content(before + " q " + matrix + " cm /P Do Q " + after + " 0 0 0.6 rg 300 300 40 40 re f");
  return pdf;
}

struct Case {
  char const* what;
  Canvas canvas;
  int parts;
};

}  // namespace

TEST_CASE("white.lost counts the white parts of pictures, and not their paper") {
  Canvas const white;
  auto const red = Canvas().all(kRed), clear = Canvas().all(kClear);
  auto const one_of = GENERATE_COPY(values<Case>(
      {{"two white letters on a red ground that fills the picture", Canvas(red).letter_e(kPaper, 20, 20).letter_l(kPaper, 60, 20), 2},
       {"a white disc on such a ground", Canvas(red).disc(kPaper, 60, 60, 20), 1},
       {"a cloud on a photograph whose sky is white at one corner", Canvas(red).box(kPaper, 0, 0, 30, 10).disc(kPaper, 70, 70, 15), 1},
       {"a badge on white paper with a white E in it", Canvas(white).disc(kBrown, 60, 60, 45).letter_e(kPaper, 52, 48), 1},
       {"an eye: white around a pupil, in a badge on white paper",
        Canvas(white).disc(kBrown, 60, 60, 45).disc(kPaper, 60, 60, 16).disc(kBlack, 60, 60, 8), 1},
       {"an owl with a white belly, cut out", Canvas(clear).disc(kBrown, 60, 60, 50).disc(kPaper, 60, 75, 20), 1},
       {"white letters beside a red bar, cut out", Canvas(clear).box(kRed, 10, 80, 110, 100).letter_e(kPaper, 20, 20).letter_l(kPaper, 50, 20), 2},
       {"a white border around a cut-out sticker", Canvas(clear).disc(kPaper, 60, 60, 50).disc(kRed, 60, 60, 44), 1},
       {"white and black stripes, cut out", Canvas(clear).box(kBlack, 20, 20, 100, 40).box(kPaper, 20, 40, 100, 60).box(kBlack, 20, 60, 100, 80), 1},
       {"a checkerboard of four white squares on black",
        Canvas().all(kBlack).box(kPaper, 10, 10, 40, 40).box(kPaper, 60, 10, 90, 40).box(kPaper, 10, 60, 40, 90).box(kPaper, 60, 60, 90, 90), 4},
       {"a black disc on white paper", Canvas(white).disc(kBlack, 60, 60, 40), 0},
       {"a ring, or an O, on white paper", Canvas(white).disc(kBlack, 60, 60, 40).disc(kPaper, 60, 60, 25), 0},
       {"a narrow O", Canvas(white).disc(kBlack, 60, 60, 40, 0.5).disc(kPaper, 60, 60, 30, 0.3), 0},
       {"a B: two holes", Canvas(white).box(kBlack, 30, 20, 80, 100).box(kPaper, 45, 32, 65, 52).box(kPaper, 45, 66, 65, 88), 0},
       {"an A: a hole of three sides", Canvas(white).letter_a(kBlack, 40, 40), 0},
       {"a C, open to the paper", Canvas(white).disc(kBlack, 60, 60, 40).disc(kPaper, 60, 60, 25).box(kPaper, 60, 50, 120, 70), 0},
       {"a ground without white", Canvas(red).disc(kBlack, 60, 60, 20), 0},
       {"specks of one pixel on a photograph", Canvas(red).box(kPaper, 20, 20, 21, 21).box(kPaper, 60, 60, 61, 61), 0},
       {"cream, which is a tint", Canvas(red).disc(kCream, 60, 60, 20), 0},
       {"a ring whose inside is clear, cut out", Canvas(clear).disc(kBlack, 60, 60, 40).disc(kClear, 60, 60, 25), 0},
       {"a photograph with a white frame around it", Canvas(white).box(kRed, 20, 20, 100, 100), 0},
       {"nothing but white", white, 0}}));
  CAPTURE(one_of.what);
  auto const pdf = page_with(one_of.canvas);
  auto const findings = ArtPage(pdf, false).findings("white.lost");
  REQUIRE(findings.size() == (one_of.parts > 0 ? 1U : 0U));
  if (one_of.parts > 0) {
    CHECK(number(findings[0].measured, "count") == one_of.parts);
    CHECK(findings[0].level == Level::note);
    CHECK_THAT(findings[0].message, Contains("of a picture") || Contains("of pictures"));
  }
  CHECK(ArtPage(pdf, true).silent("white.lost"));  // the press lays white
}

TEST_CASE("white.lost knows where a white part of a picture lies, turned and scaled as it is, and holds for dark goods") {
  auto const canvas = Canvas().all(kRed).box(kPaper, 20, 30, 50, 60);
  auto const f = ArtPage(page_with(canvas), false).finding("white.lost");
  CHECK(lies_on(f.where, {120, 260, 150, 290}));  // rows run down from y = 320
  CHECK(lies_on(ArtPage(page_with(canvas, "60 0 0 60 100 200"), false).finding("white.lost").where, {110, 230, 125, 245}));
  CHECK(lies_on(ArtPage(page_with(canvas, "0 120 -120 0 220 200"), false).finding("white.lost").where, {130, 220, 160, 250}));
  ArtPage dark(page_with(canvas));
  dark.target.dark_goods = true;
  CHECK(dark.finding("white.lost").level == Level::hold);
}

TEST_CASE("white.lost passes over what does not show, what shines through, and lines too fine to miss") {
  auto const canvas = Canvas().all(kRed).box(kPaper, 20, 30, 50, 60);
  CHECK(ArtPage(page_with(canvas, "120 0 0 120 100 200", "160 200 60 120 re W n"), false).silent("white.lost"));  // a clip beside the part
  CHECK(ArtPage(page_with(canvas, "120 0 0 120 100 200", "/Half gs"), false).silent("white.lost"));
  auto const line = Canvas().all(kRed).box(kPaper, 20, 30, 100, 31);
  CHECK(ArtPage(page_with(line, "30 0 0 30 100 200"), false).silent("white.lost"));          // a quarter of a point
  CHECK_FALSE(ArtPage(page_with(line, "120 0 0 120 100 200"), false).silent("white.lost"));  // a point
}

TEST_CASE("white.lost adds white marks to white parts of pictures") {
  auto const canvas = Canvas().all(kRed).box(kPaper, 20, 30, 50, 60);
  auto const f =
      ArtPage(page_with(canvas, "120 0 0 120 100 200", "", "0.6 g 300 100 90 90 re f 1 g 310 110 20 20 re f"), false).finding("white.lost");
  CHECK(number(f.measured, "count") == 2);
  CHECK_THAT(f.message, Contains("1 white mark and 1 white part of a picture"));
}

TEST_CASE("white.lost sees one-bit pictures, and each use of a picture") {
  PdfMaker pdf;  // 32 x 32 bits, black (0) with a white square of 8 x 8
  std::string bits(32 * 4, '\0');
  for (int y = 12; y < 20; ++y) bits[static_cast<std::size_t>(y) * 4 + 1] = '\xFF';
  auto const bit = pdf.stream("/Type /XObject /Subtype /Image /Width 32 /Height 32 /BitsPerComponent 1 /ColorSpace /DeviceGray", bits);
  pdf.page().use("XObject", "B", bit).content("q 64 0 0 64 50 60 cm /B Do Q q 64 0 0 64 250 60 cm /B Do Q");
  CHECK(number(ArtPage(pdf, false).finding("white.lost").measured, "count") == 2);
}

TEST_CASE("a picture of one color needs no pixels") {
  for (bool const flat : {true, false}) {
    PdfMaker pdf;
    std::vector<std::uint8_t> samples(30 * 30, 90);
    if (!flat) samples[17] = 140;
    pdf.page().use("XObject", "P", pdf.image_gray(30, 30, samples)).content("q 300 0 0 300 50 60 cm /P Do Q");
    CHECK(ArtPage(pdf).silent("picture.ppi") == flat);
  }
}
