// The library's device structure around our own parts.
#pragma once
#include "marks/library.h"

namespace layright {

class InkDevice;
class TapeFeed;

/// Either may be null. The caller drops the device before they go. Null when the library has no memory for it.
fz_device* new_mark_device(fz_context* ctx, InkDevice* ink, TapeFeed* tape);

}  // namespace layright
