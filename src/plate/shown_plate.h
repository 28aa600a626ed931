// The white plate as a proof shows it: from a small drawing of the page, not from one as fine as the press's.
#pragma once
#include <cstdint>
#include <vector>

#include "raster/page_picture.h"
#include "sheet/plate.h"

namespace layright {

/// How much white lies beneath each pixel, 255 a full layer. `picture`: with an alpha; `scale`: how much larger it comes onto the sheet. Empty where
/// there is no plate.
std::vector<std::uint8_t> white_beneath(PagePicture const& picture, PlateOptions const& options, double scale);

}  // namespace layright
