// The job sheet of a file that was just laid, as a file of its own.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "command/exit_status.h"
#include "job/job_sheet_pdf.h"

namespace layright {

struct JobSheetFile {
  std::string path, paper;  // empty: the one that the shop has
  bool force = false;
  std::vector<std::filesystem::path> inputs;  // never written over
};

/// Made from the laid file itself, which was laid for `target`. `cuts`: of a gang.
ExitStatus write_job_sheet(JobSheetFile const& file, Target const& target, Unit unit, std::filesystem::path const& laid,
                           std::vector<SheetCuts> const& cuts = {});

}  // namespace layright
