#include "plate/shown_plate.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace layright;

TEST_CASE("the plate of a proof stays inside the art by the pull-in as printed") {
  PagePicture picture;
  picture.width = picture.height = 100;
  picture.dpi = 144;
  picture.rgb.assign(30000, 0);
  picture.alpha.assign(10000, 0);
  for (std::size_t y = 20; y < 80; ++y)
    for (std::size_t x = 20; x < 80; ++x) picture.alpha[100 * y + x] = 255;
  auto const count = [](auto const& white) { return std::ranges::count(white, 255); };
  // Where lines keep a core, so do the corners of a square.
  PlateOptions const two{.from = PlateFrom::all, .pull_in = Length::points(2), .thin = ThinLines::bare};
  CHECK(count(white_beneath(picture, two, 1)) == 52 * 52);  // four pixels on each side
  CHECK(count(white_beneath(picture, two, 2)) == 56 * 56);
  CHECK(white_beneath(picture, {}, 1).empty());
  CHECK(count(white_beneath(picture, {.from = PlateFrom::light}, 1)) == 0);
}
