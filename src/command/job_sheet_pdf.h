// The job sheet of a target, and of a laid file where there is one, as a PDF.
#pragma once
#include <optional>
#include <string>

#include "command/known_file.h"
#include "report/job_sheet.h"
#include "setup/press_setup.h"

namespace layright {

struct JobSheetWish {
  Target target;                   // its render settled
  std::optional<KnownFile> file;   // nothing: for the target, whatever the file
  std::filesystem::path laid;      // the file itself, for its picture; empty: none
  std::string paper = "a4";        // or letter
  Unit unit = Unit::inch;
};

/// Errors: usage for another paper, and those of make_job_sheet.
Result<std::string> job_sheet_pdf(JobSheetWish const& wish, PressSetup const& setup);

}  // namespace layright
