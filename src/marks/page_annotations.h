// What the library does otherwise than print does: the border of a link prints, an unsigned signature field does not.
#pragma once
#include <vector>

#include "marks/library.h"

namespace layright {

/// The border of a Link annotation that prints and has no appearance of its own (ISO 32000-1, 12.5.4, 12.5.6.5).
struct LinkBorder {
  fz_rect where;  // user space: all that it covers
  Rgb color;
};

/// At most kMostBorders. Nothing where the annotations cannot be read.
std::vector<LinkBorder> printing_link_borders(fz_context* ctx, pdf_page* page);
inline constexpr std::size_t kMostBorders = 5000;

/// Where annotations lie that print and have no appearance in the file, links with a border too, in user space: what shows there is
/// each program's own. At most kMostBorders.
std::vector<fz_rect> annotations_without_appearance(fz_context* ctx, pdf_page* page);

/// Takes unsigned signature fields off the page in memory, for the library would draw a word of its own on them.
void leave_out_unsigned_signatures(fz_context* ctx, pdf_page* page);

}  // namespace layright
