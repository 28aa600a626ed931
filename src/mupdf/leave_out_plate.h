// A laid page as it was before its white plate.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// In memory only, before the page is loaded: it has its first content stream alone, and the plate among its resources is gone. For pages
/// whose record tells of a plate, which is in the second. `index` from 0.
void leave_out_plate(fz_context* ctx, pdf_document* document, int index);

}  // namespace layright
