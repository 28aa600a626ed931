// A small picture of a page, drawn in a shut-in child.
#pragma once
#include <filesystem>
#include <optional>

#include "intake/inspect.h"

namespace layright {

/// All that is seen of page `number`, at most `longest` pixels a side; `clear`: on nothing instead of white. Nothing when the page cannot be drawn within the limits of `wish`.
std::optional<PagePicture> draw_page_of(std::filesystem::path const& path, int number, int longest, InspectWish const& wish, bool clear = false);

}  // namespace layright
