// How strongly a JPEG was compressed, told by its quantisation tables (ITU-T T.81).
#pragma once
#include <cstddef>
#include <span>

namespace layright {

/// The quality, 1 to 100, at which the luminance table of ITU-T T.81, Annex K.1, scaled as the Independent JPEG Group's library
/// scales it, comes nearest to the table of its first channel; 0 where there is none.
int jpeg_quality(std::span<unsigned char const> bytes);

}  // namespace layright
