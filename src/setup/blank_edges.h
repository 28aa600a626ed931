// Where a press prints less of a page than the sheet's live area.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "check/finding.h"
#include "sheet/target.h"

namespace layright {

/// Adds press.margin: a hold where ink of the job would be lost, else a note. `printable` is what the press prints of a page as it gets
/// it; `ink` is where ink lies in the file, where known; `says`: who says so, such as "its PPD says in line 12: …", or empty.
void report_blank_edges(Target const& target, Rect<SheetSpace> const& printable, std::optional<Rect<SheetSpace>> const& ink, std::string const& says,
                        Unit unit, std::vector<Finding>& findings);

}  // namespace layright
