// The trial sheet: a page that shows what a press does to what it prints.
#pragma once
#include <string>

#include "base/result.h"
#include "geometry/length.h"
#include "sheet/target.h"

namespace layright {

/// A PDF of one page of the sheet's size: corner numbers, a frame with eight gaps to measure, lines that show where printing begins, and what
/// to do, once as it is and once in mirror writing, with blanks to write in. The edge with 1 and 2 is asked to go in first. Black only, drawn
/// by the module of the job sheet. Errors (internal): the module or its font is missing.
Result<std::string> trial_sheet(Target const& target, Unit unit);

}  // namespace layright
