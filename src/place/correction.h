// What a press does to the pages that it prints, by its trial sheet, and how the file undoes it.
#pragma once
#include "geometry/matrix.h"
#include "place/place.h"
#include "sheet/target.h"

namespace layright {

/// What undoes the press's shift and stretch when it is the last thing that is done to a page of the file. Stretch is about the sheet's
/// middle, along is up the page; what the trial does not tell counts as none. Identity unless the press is to be corrected (`correct`)
/// and was tried.
Matrix<SheetSpace, SheetSpace> correction_of(Target const& target);

/// A page of the file as the press gets it, or the other way round: mirrored across the sheet's vertical middle where somebody
/// reverses later.
Rect<SheetSpace> at_press(Target const& target, Rect<SheetSpace> const& of_file);

/// Where ink must lie so that it is printed in the live area of the sheet: as the press gets it, and as the file must keep it. A strip
/// of the live area that could only be printed from beyond the page's edge is left out.
Rect<SheetSpace> live_area_at_press(Target const& target);
Rect<SheetSpace> live_area_of_file(Target const& target);

/// What the press got to see of the page and did not print, by its trial sheet.
Rect<SheetSpace> printable_at_press(Target const& target);

/// place() for a target and with `options`, then corrected for its press: the ink comes to lie on the printed sheet where place() puts it.
PlaceResult place_for(Target const& target, PlacementOptions const& options, PlaceSubject const& subject, bool reverse, Unit unit);

}  // namespace layright
