// Tiling patterns that the library draws by chance.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// A pattern of huge cells under a tiny matrix (a million units by a millionth) counts for the library as one that cannot be undone (its
/// determinant lies below a float's step), and how many of its cells are drawn depends on where the page lies. Each such pattern that `page` names, also
/// through its forms, is written in larger units in memory: matrix, cell and content change so that it shows the same. True where one of the page's patterns
/// is not described as it must be, so that readers show it differently.
bool enlarge_tiny_patterns(fz_context* ctx, pdf_page* page);

}  // namespace layright
