// The library's device structure around our own parts.
#pragma once
#include "mupdf/mark_listener.h"

namespace layright {

/// `also` hears the same before `listener` does, but not what glyphs of Type 3 fonts draw: that is part of their text. May be null. The caller
/// drops the device before they go. Null when the library has no memory for it.
fz_device* new_mark_device(fz_context* ctx, MarkListener& listener, MarkListener* also = nullptr);

}  // namespace layright
