#include "reading/picture_channels.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <numeric>
#include <vector>

namespace layright {

GreyPicture channel_of(PagePicture const& p, Channel channel) {
  GreyPicture out{p.width, p.height, std::vector<std::uint8_t>(p.rgb.size() / 3)};
  std::uint8_t const* rgb = p.rgb.data();
  for (std::uint8_t& pixel : out.pixels) {
    pixel = channel == Channel::luminance ? static_cast<std::uint8_t>((rgb[0] * 77 + rgb[1] * 150 + rgb[2] * 29) >> 8)
                                          : rgb[static_cast<int>(channel) - static_cast<int>(Channel::red)];
    rgb += 3;
  }
  return out;
}

bool has_colour(PagePicture const& p) {
  std::size_t coloured = 0;
  for (std::size_t i = 0; i + 2 < p.rgb.size(); i += 3) {
    auto const [least, most] = std::minmax({p.rgb[i], p.rgb[i + 1], p.rgb[i + 2]});
    if (most - least > 24) ++coloured;
  }
  return static_cast<double>(coloured) >= 1e-4 * static_cast<double>(p.rgb.size() / 3);
}

bool has_tones(GreyPicture const& channel) {
  constexpr int kNear = 8, kColours = 3;
  constexpr double kMost = 0.62, kLeastShare = 0.15;  // letters cover less
  std::array<double, 256> levels{};
  for (std::uint8_t v : channel.pixels) ++levels[v];
  auto const take_peak = [&] {
    auto const peak = std::max_element(levels.begin(), levels.end());
    auto const from = peak - std::min<std::ptrdiff_t>(kNear, peak - levels.begin()),
               to = peak + std::min<std::ptrdiff_t>(kNear + 1, levels.end() - peak);
    double const mass = std::accumulate(from, to, 0.0);
    std::fill(from, to, 0.0);
    return mass;
  };
  double const rest = static_cast<double>(channel.pixels.size()) - take_peak();
  double few = 0;
  for (int i = 0; i < kColours; ++i) few += take_peak();
  return rest > kLeastShare * static_cast<double>(channel.pixels.size()) && few < kMost * rest;
}

}  // namespace layright
