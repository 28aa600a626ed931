// The doors into the module.
#pragma once
#include <string>

#include "sheet/target.h"

namespace layright {

struct JobSheet;
/// `out` gets the PDF, or, where false comes back, why there is none. Throws nothing.
using JobSheetEntry = bool (*)(JobSheet const& sheet, std::string& out);
inline constexpr char const* kJobSheetEntry = "layright_make_job_sheet";
using TrialSheetEntry = bool (*)(Target const& target, Unit unit, std::string& out);
inline constexpr char const* kTrialSheetEntry = "layright_make_trial_sheet";

}  // namespace layright
