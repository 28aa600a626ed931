// How the shapes of letters and digits lie, and what they add to what the engine reads. Rates over many fonts: tests/reading.
#include "reading/letter_ways.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "reading/line_trial.h"

using namespace layright;

namespace {

/// Letters of 5 x 7 squares, drawn four times as large on a strip.
GreyPicture strip_of(std::vector<std::vector<std::string>> const& letters) {
  constexpr int kTimes = 4;
  GreyPicture strip{static_cast<int>(letters.size()) * 7 * kTimes, 44, {}};
  strip.pixels.assign(static_cast<std::size_t>(strip.width) * 44, 255);
  for (std::size_t i = 0; i < letters.size(); ++i)
    for (int y = 0; y < 7 * kTimes; ++y)
      for (int x = 0; x < 5 * kTimes; ++x)
        if (letters[i][static_cast<std::size_t>(y / kTimes)][static_cast<std::size_t>(x / kTimes)] == '#')
          strip.pixels[static_cast<std::size_t>(y + 8) * static_cast<std::size_t>(strip.width) + i * 7 * kTimes + static_cast<std::size_t>(x + 4)] =
              0;
  return strip;
}

std::vector<std::string> const kR = {"#### ", "#   #", "#   #", "#### ", "# #  ", "#  # ", "#   #"},
                               kF = {"#####", "#    ", "#    ", "#### ", "#    ", "#    ", "#    "},
                               kSeven = {"#####", "    #", "   # ", "  #  ", " #   ", " #   ", " #   "},
                               kFour = {"   # ", "  ## ", " # # ", "#  # ", "#####", "   # ", "   # "},
                               kO = {" ### ", "#   #", "#   #", "#   #", "#   #", "#   #", " ### "},
                               kH = {"#   #", "#   #", "#   #", "#####", "#   #", "#   #", "#   #"};

GreyPicture reversed(GreyPicture strip) {
  for (int y = 0; y < strip.height; ++y) std::reverse(strip.pixels.begin() + y * strip.width, strip.pixels.begin() + (y + 1) * strip.width);
  return strip;
}

GreyPicture turned(GreyPicture strip) {
  std::reverse(strip.pixels.begin(), strip.pixels.end());
  return strip;
}

}  // namespace

TEST_CASE("shapes of letters and digits tell how a line lies", "[letters]") {
  GreyPicture const strip = strip_of({kR, kF, kSeven, kFour});
  ShapesSaid const said = shapes_of(strip);
  CHECK(said.glyphs == 4);
  CHECK(said.kinds == 4);
  CHECK(said.even);
  CHECK(said.right() > 4);
  CHECK(static_cast<Way>(said.way()) == Way::upright);
  ShapesSaid const other = shapes_of(reversed(strip));
  CHECK(other.right() == Approx(-said.right()).margin(0.01));
  CHECK(static_cast<Way>(other.way()) == Way::reversed);
  ShapesSaid const around = shapes_of(turned(strip));
  CHECK(around.right() == Approx(said.right()).margin(0.01));
  CHECK(static_cast<Way>(around.way()) == Way::turned);
}

TEST_CASE("shapes that are the same in a mirror tell nothing", "[letters]") {
  ShapesSaid const said = shapes_of(strip_of({kO, kH, kO, kH}));
  CHECK(said.glyphs == 4);
  CHECK(said.kinds == 2);
  CHECK(std::abs(said.right()) < 0.1);
}

TEST_CASE("a shape that comes again is no further witness", "[letters]") {
  ShapesSaid const once = shapes_of(strip_of({kFour, kSeven})), often = shapes_of(strip_of({kFour, kSeven, kFour, kSeven, kFour, kSeven}));
  CHECK(often.kinds == 2);
  CHECK(often.right() < 1.5 * once.right());
}

TEST_CASE("a line of which some letters stand on their heads is known, reversed too", "[letters]") {
  auto const on_its_head = [](std::vector<std::string> letter) {
    std::reverse(letter.begin(), letter.end());
    for (std::string& row : letter) std::reverse(row.begin(), row.end());
    return letter;
  };
  CHECK(shapes_of(strip_of({kR, kF, kSeven, kFour})).turned == 0);
  CHECK(shapes_of(turned(strip_of({kR, kF, kSeven, kFour}))).turned == 0);
  CHECK(shapes_of(strip_of({kR, kF, kSeven, on_its_head(kFour)})).turned == 0);  // one may be misread
  GreyPicture const strip = strip_of({kR, kFour, on_its_head(kF), on_its_head(kSeven)});
  CHECK(shapes_of(strip).turned > 0.9);
  CHECK(shapes_of(reversed(strip)).turned == Approx(shapes_of(strip).turned).margin(0.01));
}

TEST_CASE("letters of two heights do not stand evenly", "[letters]") {
  auto low = kR;
  low[0] = low[1] = "     ";
  CHECK_FALSE(shapes_of(strip_of({kR, low, kFour})).even);
}

TEST_CASE("an empty strip holds no shapes", "[letters]") {
  GreyPicture const strip{40, 44, std::vector<std::uint8_t>(40 * 44, 255)};
  CHECK(shapes_of(strip).glyphs == 0);
  CHECK(shapes_of(strip).right() == 0);
}
