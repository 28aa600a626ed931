// The trial sheet: a page that shows what a press does to what it prints.
#pragma once
#include <string>

#include "geometry/length.h"
#include "sheet/target.h"

namespace layright {

/// A PDF of one page of the sheet's size: an arrow to the feed edge, asymmetric letters, corner numbers, a frame at the live area,
/// rulers on all four edges in `unit`, fine rulers along and across. Vector and standard fonts only (ISO 32000-1, 9.6.2.2).
std::string trial_sheet(Target const& target, Unit unit);

}  // namespace layright
