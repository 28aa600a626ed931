// Gives pages of a PDF made here their size, where whoever made it could only put a placeholder.
#pragma once
#include <functional>
#include <optional>
#include <span>

#include "base/result.h"
#include "document/page.h"

namespace layright {

/// Writes `pdf` to `descriptor`; each page as large as `placeholder` gets the MediaBox that `box` tells (by its number, from 1; nothing: it
/// stays). Errors: data when it cannot be read, io.
Outcome frame_pages(std::span<std::byte const> pdf, SeenSize placeholder, std::function<std::optional<Rect<PageSpace>>(int page)> const& box,
                    int descriptor);

}  // namespace layright
