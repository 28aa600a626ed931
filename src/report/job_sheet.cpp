#include "report/job_sheet.h"

#include "base/module.h"
#include "report/paper_module/entry.h"

namespace layright {

Result<std::string> make_job_sheet(JobSheet const& sheet) {
  auto const found = load_from_module("layright-paper", kJobSheetEntry);
  if (!found) return found.error();
  auto const entry = reinterpret_cast<JobSheetEntry>(*found);
  std::string text;
  if (entry(sheet, text)) return text;
  return Error{ErrorKind::internal, "the job sheet could not be made: " + text};
}

}  // namespace layright
