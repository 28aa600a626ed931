// Bytes in memory as the library reads them, window after window, so that a large file that is mapped need not stay in memory once read.
#pragma once
#include <functional>
#include <span>

#include "mupdf/library.h"

namespace layright {

/// A stream over `bytes`, which must outlive it; `read_on` is called after so many of them have been read, and may not throw. Null where there
/// is not enough memory.
fz_stream* read_on_stream(fz_context* ctx, std::span<unsigned char const> bytes, std::function<void()> read_on);

}  // namespace layright
