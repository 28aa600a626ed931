// Which letter of live text lies at a place: so that a person is told of "the letter #" and not only of a place.
#pragma once
#include <string>

#include "mupdf/library.h"

namespace layright {

/// In UTF-8; empty where there is none, or the library fails. Counted from the upper left corner of the page as seen, in points.
std::string letter_at(fz_context* ctx, fz_page* page, Point<SeenSpace> const& from_upper_left);

}  // namespace layright
