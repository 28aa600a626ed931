// How a photograph asks to be shown: the orientation tag in a JPEG file's Exif data.
#pragma once
#include <cstdint>
#include <span>

namespace layright {

/// 1 to 8 as the standard numbers them (CIPA DC-008-2019, Exif 2.32, 4.6.5, tag 274): 1 as it lies, 2 mirrored, 3 turned by 180 degrees,
/// 4, 5 and 7 mirrored and turned, 6 and 8 turned by 90. 1 where the data says nothing, or nothing sound.
int exif_orientation(std::span<std::uint8_t const> jpeg);

/// Whether that orientation shows the picture as in a mirror.
constexpr bool mirrors(int orientation) { return orientation == 2 || orientation == 4 || orientation == 5 || orientation == 7; }

}  // namespace layright
