// A TrueType font of three glyphs, made here from its few numbers, so that tests embed a font that is nobody else's.
#pragma once
#include <string>

namespace layright::test {

/// Glyph 0 is empty, glyph 1 a flag on a pole (no symmetry), glyph 2 a triangle; 1000 units to the em, each 600 wide. Table layout:
/// Apple's and Microsoft's TrueType specification (from memory; poppler, MuPDF and Ghostscript read it).
std::string tiny_truetype();

}  // namespace layright::test
