// The library's memory: what a page asks for at once has an end, wherever it is read.
#pragma once
#include <cstddef>

#include "mupdf/library.h"

namespace layright {

/// More than this at once the library does not get (the largest picture that is decoded has 400 million pixels, in four bytes each): an
/// instruction that asks for more, such as one cell of a pattern as large as a hall, fails like any other. Where a child's own limit is smaller, that holds.
inline constexpr std::size_t kMostAtOnce = 1'600'000'000;

/// `store`: bytes that the library may keep for later. Null where there is no memory.
fz_context* new_context(std::size_t store);

}  // namespace layright
