// A page drawn in its inks: a plane for each.
#pragma once
#include <string>
#include <vector>

#include "raster/page_canvas.h"

namespace layright {

/// The inks of the process, then each spot colour in the order of the file. Throws through the library.
fz_pixmap* draw_separations(fz_context* ctx, fz_page* page, CanvasFrame const& frame);

/// The spot colors of a page, each to be drawn on a plane of its own. Throws through the library; the caller drops them.
fz_separations* spots_of(fz_context* ctx, fz_page* page);

/// Names of its planes, as the file has them.
std::vector<std::string> plane_names(fz_context* ctx, fz_pixmap const* pixels);

}  // namespace layright
