// Data that end before they should, as of a file that was not wholly sent.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// Whether the packed operators of the page, or of a form, a pattern, a letter of a Type 3 font, a soft mask or an annotation that it shows, end before
/// their last block (RFC 1951, 3.2.3). The library then shows what there is and says only that data ended; it says the same where nothing
/// but the checksum is missing, which loses nothing. Pictures are not looked at here.
bool has_cut_stream(fz_context* ctx, pdf_page* page);

}  // namespace layright
