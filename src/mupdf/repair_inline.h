// Inline pictures that the library cannot load: it reads their data as instructions then (ISO 32000-1, 8.9.7).
#pragma once
#include "mupdf/library.h"

namespace layright {

/// Puts a black square in the place of each, in memory only: a form's or a pattern's, or a page's. True where there was one. May jump out.
bool repair_inline_pictures(fz_context* ctx, pdf_document* document, pdf_obj* stream, pdf_obj* resources);
bool repair_inline_pictures(fz_context* ctx, pdf_page* page);

}  // namespace layright
