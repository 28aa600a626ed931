// What the library does otherwise than print does: the border of a link prints, an unsigned signature field does not.
#pragma once
#include <vector>

#include "mupdf/library.h"

namespace layright {

/// The border of a Link annotation that prints and has no appearance of its own (ISO 32000-1, 12.5.4, 12.5.6.5).
struct LinkBorder {
  fz_rect where;  // user space: all that it covers
  Rgb color;
};

/// At most kMostBorders. Nothing where the annotations cannot be read.
std::vector<LinkBorder> printing_link_borders(fz_context* ctx, pdf_page* page);
inline constexpr std::size_t kMostBorders = 5000;

/// Where annotations lie that print and are drawn by their shape, since they bring no appearance, links with a border too, in user space:
/// how they are drawn is each program's own. At most kMostBorders.
std::vector<fz_rect> annotations_without_appearance(fz_context* ctx, pdf_page* page);

/// Of the annotations (or the widgets) that print, in the library's order: whether each brings an appearance of its own. At most kMostBorders.
std::vector<bool> own_appearances(fz_context* ctx, pdf_page* page, bool widgets);

/// Takes off the page in memory what the library would draw on its own account and print does not show: unsigned signature fields,
/// buttons whose appearance has none for their present state, and annotations of which each program makes up what they look like.
void leave_out_what_does_not_print(fz_context* ctx, pdf_page* page);

/// The appearance of an annotation that prints and that the library leaves out: a link's, or a widget's that belongs to no field. Null
/// where there is none. A plain call of the library, which may jump out.
pdf_obj* left_out_appearance(fz_context* ctx, pdf_document* document, pdf_obj* annotation);

}  // namespace layright
