// Repairs, in memory only, what makes the library give up a page for one thing in it.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// Takes out of the page's resources, and of those of its forms and patterns, what the library cannot load: it breaks off the page there, other
/// readers pass over it, or paint something; so an inline picture that cannot be read becomes a black one. Gives forms what they name and only the page has, as other readers do (ISO 32000-1, 7.8.3, asks forms to name all
/// themselves). True where something changed, so that the page is worth running again.
bool repair_page(fz_context* ctx, pdf_page* page);

}  // namespace layright
