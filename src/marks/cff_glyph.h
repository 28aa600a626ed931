// Whether the outline of a letter is there in a font of the Compact Font Format (Adobe Technical Note 5176).
#pragma once
#include <span>

namespace layright {

/// False where the index of the outlines has no room for it in the font, or where it does not end as one does (Adobe Technical Note 5177, 3.1):
/// the library then shows nothing, others what they like. Nor where it `shows` nothing although it says a lot: what it calls is not there. `font`: the
/// table or the bare font. True for what is no such font.
bool cff_glyph_is_whole(std::span<unsigned char const> font, int glyph, bool shows);

}  // namespace layright
