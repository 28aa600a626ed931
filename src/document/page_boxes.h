// Reads the boxes, the rotation and the unit of one page as ISO 32000 says (7.7.3.3, 14.11.2), and tells every fault.
#pragma once
#include "document/page.h"
#include "document/page_tree.h"

namespace layright {

/// Fills in all of `page` that comes of its boxes, Rotate and UserUnit: also `usable`, `trouble`, `to_seen` and `seen`.
void read_boxes(PageTree const& tree, Page& page);

}  // namespace layright
