// White beneath the art, in pictures for people: the plate alone, and what goods, plate and art come to together.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "raster/page_picture.h"

namespace layright {

using GoodsColor = std::array<std::uint8_t, 3>;  // red, green, blue

/// "#203040".
std::optional<GoodsColor> parse_goods_color(std::string_view text);
bool is_dark(GoodsColor const& color);

/// The art as it will look: toner lets what lies beneath it through, goods or white. `white`: a byte a pixel, 255 a full layer. Where there is
/// neither art nor white it is clear.
PagePicture pressed(PagePicture const& art, std::vector<std::uint8_t> const& white, GoodsColor const& goods);
/// The plate by itself, clear where it has no white.
PagePicture plate_alone(PagePicture const& art, std::vector<std::uint8_t> const& white);

}  // namespace layright
