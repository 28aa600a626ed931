// The outline of a laid page's ink, from its picture.
#pragma once
#include <memory>
#include <optional>

#include "gang/ink_shape.h"
#include "place/place.h"
#include "raster/page_picture.h"
#include "sheet/target.h"

namespace layright {

/// Pixels along the longer side of the sheet: about three to a cell, so that a cell with a little ink is not missed.
int shape_picture_side(Target const& target);

/// `picture`: of the whole laid page, clear where nothing is. Without one its box counts. Cells count from the lower left corner of the ink as it
/// lies before the press's correction.
std::shared_ptr<InkShape const> ink_shape_of(std::optional<PagePicture> const& picture, Placement const& placement, Target const& target);

}  // namespace layright
