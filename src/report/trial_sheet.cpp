#include "report/trial_sheet.h"

#include "base/module.h"
#include "report/paper_module/entry.h"

namespace layright {

Result<std::string> trial_sheet(Target const& target, Unit unit) {
  auto const found = load_from_module("layright-paper", kTrialSheetEntry);
  if (!found) return found.error();
  std::string text;
  if (reinterpret_cast<TrialSheetEntry>(*found)(target, unit, text)) return text;
  return Error{ErrorKind::internal, "the trial sheet could not be made: " + text};
}

}  // namespace layright
