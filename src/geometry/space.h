// The coordinate spaces that a page passes through. All are in points of 1/72 in on paper unless it says otherwise.
#pragma once

namespace layright {

/// A page's default user space (ISO 32000-1, 8.3.2.3), in the file's units: not times UserUnit, not turned, any origin.
struct PageSpace {};
/// A page as a viewer shows it: crop box, Rotate and UserUnit applied; origin lower left, y up, points.
struct SeenSpace {};
/// The sheet as a page: origin lower left, y up, points; short edge horizontal for a short-edge feed.
struct SheetSpace {};

}  // namespace layright
