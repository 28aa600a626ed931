// The one door into the module.
#pragma once
#include <string>

namespace layright {

struct JobSheet;
/// `out` gets the PDF, or, where false comes back, why there is none. Throws nothing.
using JobSheetEntry = bool (*)(JobSheet const& sheet, std::string& out);
inline constexpr char const* kJobSheetEntry = "layright_make_job_sheet";

}  // namespace layright
