#include "job/job_sheet_pdf.h"

namespace layright {

Result<std::string> job_sheet_pdf(JobSheetOptions const& options, PressSetup const& setup) {
  std::optional<PagePicture> picture;
  if (!options.laid.empty()) {
    InspectOptions limits;
    limits.target = options.target;
    picture = draw_page_of(options.laid, 1, kJobSheetPictureSide, limits);
  }
  return job_sheet_pdf(options, setup, std::move(picture));
}

Result<std::string> job_sheet_pdf(JobSheetOptions const& options, PressSetup const& setup, std::optional<PagePicture> picture) {
  if (options.paper != "a4" && options.paper != "letter") return Error{ErrorKind::usage, "--paper is a4 or letter"};
  JobSheet sheet;
  sheet.target = options.target;
  if (options.file) {
    sheet.file = options.file->file;
    sheet.ink = options.file->ink;
  }
  sheet.list = operator_list(options.target, setup, sheet.file, options.unit);
  if (picture) sheet.picture = {picture->width, picture->height, std::move(picture->rgb)};
  sheet.date = today();
  sheet.paper = options.paper == "letter" ? JobSheetPaper::letter : JobSheetPaper::a4;
  sheet.unit = options.unit;
  return make_job_sheet(sheet);
}

void prepare_job_sheets() {
  // Made once and thrown away: libraries keep what they have found.
  JobSheetOptions options;
  options.target.sheet.width = Length::inches(8.5);
  options.target.sheet.length = Length::inches(17);
  (void)job_sheet_pdf(options, keyword_setup(options.target, std::nullopt, Unit::inch), std::nullopt);
}

}  // namespace layright
