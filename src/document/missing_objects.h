// Walks all that the pages of a repaired file need, to tell whether anything is certainly missing from it.
#pragma once
#include "document/page_tree.h"
#include "document/repairs.h"

namespace layright {

/// Adds to `repairs` references to objects that are not in the file and streams that cannot be decoded to their end. Only worth its
/// time after a repair: it reads all that the pages use.
void find_missing_objects(PageTree const& tree, Repairs& repairs);

}  // namespace layright
