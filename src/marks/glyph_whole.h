// Whether the outline of a letter is there in the font that a file brings. Of a TrueType font that is cut short, or lacks a table, some programs show
// its letters, others none; the library shows what it finds.
#pragma once
#include <span>

namespace layright {

/// `font`: a TrueType, OpenType (ISO/IEC 14496-22) or bare CFF font; of others, and of a glyph that it has not, always true. `shows`: the
/// library draws something of it.
bool glyph_is_whole(std::span<unsigned char const> font, int glyph, bool shows);

}  // namespace layright
