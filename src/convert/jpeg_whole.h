// Whether the data of a JPEG says all that its header promises.
#pragma once
#include <functional>
#include <optional>

#include "convert/picture.h"

namespace layright {

/// Bytes of it up to and with the marker that ends it. Decodes it for that (as small as may be, for nothing is kept) and tells `used` how many bytes
/// have been read, again and again. Error (data) where rows are missing or damaged, which readers of pictures would fill up in silence. Nothing:
/// it takes too much memory to be looked through.
Result<std::optional<std::size_t>> whole_jpeg_length(std::span<std::byte const> bytes, std::function<void(std::size_t)> const& used);

}  // namespace layright
