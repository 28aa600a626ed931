// Where lines lie to each other in a picture.
#pragma once
#include "reading/letter_lines.h"

namespace layright {

/// Pixels, of the upright extents.
double shared_area(LetterLine const& a, LetterLine const& b);
/// Whether more than half of the smaller lies in the larger.
bool overlap(LetterLine const& a, LetterLine const& b);
/// Whether most of the line lies in that place: a look there was a look at it.
bool lies_in(LetterLine const& line, LetterLine const& place);
/// Whether they overlap, and are alike in direction and lightness.
bool same_place(LetterLine const& a, LetterLine const& b);

}  // namespace layright
