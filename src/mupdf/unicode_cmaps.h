// CMaps of CJK fonts that the library does not bring: those of Unicode in UTF-8 and UTF-32, and those of the later Japanese standards (ISO
// 32000-1, Table 118). Without them every code is taken for two bytes of a CID.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// The predefined CMap of this name; the caller's to drop. Throws through the library where there is none.
pdf_cmap* system_cmap(fz_context* ctx, char const* name);

}  // namespace layright
