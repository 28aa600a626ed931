// Whether the data of a JPEG says all that its header promises.
#pragma once
#include <functional>

#include "convert/picture.h"

namespace layright {

/// Decodes it (as small as may be, for nothing is kept) and tells `used` how many bytes have been, again and again. Error (data) where rows are
/// missing or damaged, which readers of pictures would fill up in silence. `false`: it takes too much memory to be looked through.
Result<bool> jpeg_is_whole(std::span<std::byte const> bytes, std::function<void(std::size_t)> const& used);

}  // namespace layright
