// Worked out by hand: toner multiplies what lies beneath it.
#include "report/white_layer.h"

#include <catch2/catch.hpp>

using namespace layright;

TEST_CASE("a color of goods is six hexadecimal digits") {
  CHECK(parse_goods_color("#203040") == GoodsColor{0x20, 0x30, 0x40});
  CHECK(is_dark(*parse_goods_color("#203040")));
  CHECK_FALSE(is_dark(*parse_goods_color("#f0e0d0")));
  for (auto const* text : {"203040", "#20304", "#2030405", "#20304g", "dark", "", "#-03040"}) CHECK_FALSE(parse_goods_color(text));
}

TEST_CASE("art shows its color on white, and darkens the goods where there is none") {
  PagePicture art;
  art.width = 4;
  art.height = 1;
  art.dpi = 72;
  art.rgb = {255, 0, 0, 255, 0, 0, 0, 0, 0, 255, 255, 255};
  art.alpha = {255, 255, 0, 255};
  auto const made = pressed(art, {255, 0, 0, 255}, {100, 60, 40});
  CHECK(made.rgb == std::vector<std::uint8_t>{250, 0, 0, 100, 0, 0, 100, 60, 40, 250, 250, 250});
  CHECK(made.alpha == std::vector<std::uint8_t>{255, 255, 0, 255});
  CHECK(plate_alone(art, {255, 0, 0, 128}).alpha == std::vector<std::uint8_t>{255, 0, 0, 128});
}
