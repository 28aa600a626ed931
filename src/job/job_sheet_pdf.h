// The job sheet of a target, and of a laid file where there is one, as a PDF.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "job/known_file.h"
#include "job/page_drawing.h"
#include "report/job_sheet.h"
#include "setup/press_setup.h"

namespace layright {

struct JobSheetOptions {
  Target target;                  // its render settled
  std::optional<KnownFile> file;  // nothing: for the target, whatever the file
  std::filesystem::path laid;     // the file itself, for its pictures; empty: none
  std::string paper = {};         // a4 or letter; empty: see usual_paper
  Unit unit = Unit::inch;
  std::string job = {};                 // what the barcode holds; empty: none
  std::vector<std::string> released{};  // who released what
  std::vector<SheetCuts> cuts{};
};

/// What an office has: letter where inches are the unit and the sheet is of no ISO size, else A4.
JobSheetPaper usual_paper(Sheet const& sheet, Unit unit);

/// Errors: usage for another paper, and those of make_job_sheet.
Result<std::string> job_sheet_pdf(JobSheetOptions const& options, PressSetup const& setup);
/// The same with pictures of its first pages that were drawn already; options.laid is not looked at.
Result<std::string> job_sheet_pdf(JobSheetOptions const& options, PressSetup const& setup, std::vector<PagePicture> pictures);
/// How many pages have a picture on it.
int pages_pictured(KnownFile const& file);

/// Loads what making one takes (module, fonts), so that children that are forked afterwards have it already. On trouble: nothing; whoever
/// makes one is reported.
void prepare_job_sheets();

/// Pixels along the longer side of a picture: about 300 to the inch at the size that the first has on the job sheet.
inline constexpr int kJobSheetPictureSide = 900;

}  // namespace layright
