// Whether a soft mask fades out over an area, which no dot of toner can do.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// True where at least kLeastFading of the mask's pixels, and not only those along an edge, are neither clear nor opaque. False where it
/// cannot be decoded.
bool mask_fades(fz_context* ctx, fz_image* mask);

}  // namespace layright
