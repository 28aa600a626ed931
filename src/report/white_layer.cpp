#include "report/white_layer.h"

#include <charconv>
#include <cstddef>

namespace layright {
namespace {

constexpr unsigned kToner = 250;  // of 255: white toner is not as bright as paper

std::uint8_t part(unsigned value, unsigned of_255) { return static_cast<std::uint8_t>((value * of_255 + 127) / 255); }

}  // namespace

std::optional<GoodsColor> parse_goods_color(std::string_view text) {
  unsigned value = 0;
  if (text.size() != 7 || text[0] != '#') return std::nullopt;
  auto const read = std::from_chars(text.data() + 1, text.data() + text.size(), value, 16);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return GoodsColor{static_cast<std::uint8_t>(value >> 16), static_cast<std::uint8_t>(value >> 8), static_cast<std::uint8_t>(value)};
}

/// By the weights of luma (ITU-R BT.601, from memory).
bool is_dark(GoodsColor const& c) { return 299 * c[0] + 587 * c[1] + 114 * c[2] < 128000; }

PagePicture pressed(PagePicture const& art, std::vector<std::uint8_t> const& white, GoodsColor const& goods) {
  PagePicture made = art;
  for (std::size_t at = 0; at < white.size() && at < made.alpha.size(); ++at) {
    unsigned const alpha = art.alpha[at];
    for (std::size_t i = 0; i < 3; ++i) {
      unsigned const beneath = part(kToner, white[at]) + part(goods[i], 255U - white[at]);
      made.rgb[3 * at + i] = part(beneath, 255 - alpha + part(art.rgb[3 * at + i], alpha));
    }
    if (alpha > 0 || white[at] > 0) made.alpha[at] = 255;
  }
  return made;
}

PagePicture plate_alone(PagePicture const& art, std::vector<std::uint8_t> const& white) {
  PagePicture made = art;
  for (auto& value : made.rgb) value = kToner;
  made.alpha = white;
  return made;
}

}  // namespace layright
