// TrueType fonts made here from a few numbers, so that tests embed a font that is nobody else's.
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace layright::test {

/// One closed contour of straight lines, y up, clockwise as TrueType wants outer contours; 1000 units to the em.
using Corners = std::vector<std::pair<int, int>>;

/// Glyph 0 is empty, glyph 1 the first of `glyphs` and so on, each 600 wide; byte 65 (A) is glyph 1. Table layout: Apple's and
/// Microsoft's TrueType specification (from memory; poppler, MuPDF and Ghostscript read it).
std::string truetype_of(std::vector<Corners> const& glyphs);

/// Glyph 1 is a flag on a pole (no symmetry), glyph 2 a triangle.
std::string tiny_truetype();

/// What a capital looks like, drawn by hand: E, F, L, Z or the digit 7. In a mirror: without turning its winding round.
Corners letter_corners(char letter, bool reversed = false);
/// The same as operators of a page.
std::string path_of(Corners const& corners);

}  // namespace layright::test
