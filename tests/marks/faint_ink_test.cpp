// What is faint and what is white: half a percent of a tint is ink, noise in a picture's white is none (DESIGN rule 9).
#include <cmath>
#include <cstdint>
#include <random>

#include "marks/page_reading.h"
#include "marks/picture_white.h"

using namespace layright;
using namespace layright::test;

namespace {

constexpr std::size_t kWide = 60, kHigh = 40;
SeenRect const kWhole{100, 100, 700, 500};  // of a picture at ten points a pixel
SeenRect const kDot{300, 300, 310, 310};    // one dark pixel of it

/// Gray pixels with one dark one; `value(x, y)` gives the others.
template <class Value>
Marks picture(Value&& value, MarksWanted const& wanted = {}) {
  std::vector<std::uint8_t> gray(kWide * kHigh);
  for (std::size_t y = 0; y < kHigh; ++y)
    for (std::size_t x = 0; x < kWide; ++x) gray[y * kWide + x] = static_cast<std::uint8_t>(value(x, y));
  gray[19 * kWide + 20] = 0;
  PdfMaker pdf;
  pdf.page()
      .media("[0 0 800 600]")
      .use("XObject", "I", pdf.image_gray(static_cast<int>(kWide), static_cast<int>(kHigh), gray))
      .content("q 600 0 0 400 100 100 cm /I Do Q");
  return marks_of(pdf, wanted);
}

void is_at(Marks const& marks, SeenRect const& box) {
  REQUIRE(marks.ink);
  INFO(marks.ink->x0 << " " << marks.ink->y0 << " " << marks.ink->x1 << " " << marks.ink->y1);
  CHECK(marks.ink->contains(box, 0.1));
  CHECK(box.contains(*marks.ink, 0.1));
}

Marks thinned(std::string const& alpha, int times, std::string const& mark) {
  PdfMaker pdf;
  std::string content = "/G gs 0 g";
  for (int i = 0; i < times; ++i) content += " " + mark;
  pdf.page().use("ExtGState", "G", "<< /ca " + alpha + " >>").content(content);
  return marks_of(pdf);
}

}  // namespace

TEST_CASE("faint ink: the strongest separation counts, however light it looks") {
  for (char const* colour : {"0.01 0 0 0 k", "0 0 0.02 0 k", "1 1 0.99 rg", "0.99 g", "/Spot cs 0.01 scn"}) {
    INFO(colour);
    PdfMaker pdf;
    auto const function = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0.2 0] /N 1 >>";
    pdf.page()
        .use("ColorSpace", "Spot", std::string("[ /Separation /Straw /DeviceCMYK ") + function + " ]")
        .content(std::string(colour) + " 50 60 100 100 re f");
    is_at(marks_of(pdf), {50, 60, 150, 160});
  }
  // Spot inks that look white are white or a varnish; None paints on no separation (ISO 32000-1, 8.6.6.4).
  for (char const* space : {"/White /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 0] /N 1 >>",
                            "/None /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 1] /N 1 >>"}) {
    PdfMaker pdf;
    pdf.page().use("ColorSpace", "Spot", std::string("[ /Separation ") + space + " ]").content("10 10 5 5 re f /Spot cs 1 scn 50 60 100 100 re f");
    is_at(marks_of(pdf), {10, 10, 15, 15});
  }
}

TEST_CASE("faint ink: what adds up counts by the sum where marks overlap") {
  is_at(thinned("0.018", 1, "20 20 300 200 re f"), {20, 20, 320, 220});
  CHECK_FALSE(thinned("0.004", 1, "20 20 300 200 re f").ink);
  is_at(thinned("0.004", 10, "20 20 300 200 re f"), {20, 20, 320, 220});
  is_at(thinned("0.004", 1, "20 20 100 100 re f 70 70 100 100 re f"), {70, 70, 120, 120});
  CHECK_FALSE(thinned("0.004", 1, "20 20 100 100 re f 200 200 100 100 re f").ink);
  CHECK_FALSE(thinned("0.0001", 30, "20 20 300 200 re f").ink);
}

TEST_CASE("faint ink: white that lets half a percent through covers nothing") {
  PdfMaker pdf;
  pdf.page().use("ExtGState", "G", "<< /ca 0.97 >>").content("100 100 200 50 re f /G gs 1 g 90 90 300 70 re f");
  is_at(marks_of(pdf), {100, 100, 300, 150});
}

TEST_CASE("faint ink: pictures on white, on noisy white, and on a tint") {
  is_at(picture([](auto, auto) { return 255; }), kDot);
  is_at(picture([](auto, auto) { return 254; }), kDot);  // less than half a percent
  is_at(picture([](auto, auto) { return 252; }), kWhole);
  std::mt19937 random(7);
  is_at(picture([&](auto, auto) { return 255 - static_cast<int>(random() % 5); }), kDot);
  // A tint that the noise does not explain.
  is_at(picture([&](auto, auto) { return 250 + static_cast<int>(random() % 2); }), kWhole);
  // A faint box inside a white border; the same with the border's noise.
  auto const boxed = [&](bool noise) {
    return picture([&](std::size_t x, std::size_t y) {
      bool const inside = x >= 10 && x < 50 && y >= 10 && y < 30;
      return (inside ? 251 : 255) - (noise && !inside ? static_cast<int>(random() % 4) : 0);
    });
  };
  is_at(boxed(false), {200, 200, 600, 400});
  is_at(boxed(true), kDot);
  MarksWanted white;
  white.white_prints = true;
  is_at(picture([](auto, auto) { return 255; }, white), kWhole);
}

TEST_CASE("faint ink: a picture's border tells its noise and its ground") {
  auto const border = [](auto&& level) {
    PictureBorder b;
    for (int i = 0; i < 1000; ++i) b.add(static_cast<float>(level(i)));
    return b;
  };
  std::mt19937 random(3);
  auto const clean = border([](int) { return 0; }), flat = border([](int) { return 10; }), dark = border([](int) { return 200; });
  auto const noisy = border([&](int) { return random() % 6; });
  CHECK_FALSE(clean.white_is_noisy(false));
  CHECK(clean.white_is_noisy(true));  // JPEG rings round what lies inside
  CHECK(noisy.white_is_noisy(false));
  CHECK_FALSE(flat.white_is_noisy(true));
  CHECK(dark.white_is_noisy(false));
  CHECK(clean.ground(false) == 0);
  CHECK(noisy.ground(true) == 0);
  CHECK(dark.ground(false) == 0);
  CHECK(std::fabs(flat.ground(true) - 10 / 255.0F) < 1e-4F);
  // Paper at 4 % with a scanner's noise.
  CHECK(std::fabs(border([&](int) { return 9 + random() % 3; }).ground(true) - 10 / 255.0F) < 0.002F);
}

// Multiply: what is left of the white is multiplied, 0.996 ten times is 0.961; on paper, Normal puts each in the place of the one before.
TEST_CASE("fainter fills than leave ink add up under Multiply, and not where each hides the last") {
  struct Row {
    char const* mode;
    bool inked;
  };
  for (auto const& row : {Row{"Multiply", true}, Row{"Normal", false}})
    for (std::string const colour : {"0.004 0 0 0 k", "0.997 g"}) {
      INFO(row.mode << " " << colour);
      PdfMaker pdf;
      std::string content = "/G gs " + colour;
      for (int i = 0; i < 10; ++i) content += " 50 50 200 200 re f";
      pdf.page().media("[0 0 300 300]").use("ExtGState", "G", pdf.object(std::string("<< /BM /") + row.mode + " >>")).content(content);
      auto const ink = marks_of(pdf).ink;
      CHECK(ink.has_value() == row.inked);
      if (row.inked) CHECK((ink && ink->contains(SeenRect{50, 50, 250, 250}, 0.1)));
    }
}
