#include "job/job_sheet_pdf.h"

namespace layright {

Result<std::string> job_sheet_pdf(JobSheetOptions const& wish, PressSetup const& setup) {
  std::optional<PagePicture> picture;
  if (!wish.laid.empty()) {
    InspectOptions limits;
    limits.target = wish.target;
    picture = draw_page_of(wish.laid, 1, kJobSheetPictureSide, limits);
  }
  return job_sheet_pdf(wish, setup, std::move(picture));
}

Result<std::string> job_sheet_pdf(JobSheetOptions const& wish, PressSetup const& setup, std::optional<PagePicture> picture) {
  if (wish.paper != "a4" && wish.paper != "letter") return Error{ErrorKind::usage, "--paper is a4 or letter"};
  JobSheet sheet;
  sheet.target = wish.target;
  if (wish.file) {
    sheet.file = wish.file->file;
    sheet.ink = wish.file->ink;
  }
  sheet.list = operator_list(wish.target, setup, sheet.file, wish.unit);
  if (picture) sheet.picture = {picture->width, picture->height, std::move(picture->rgb)};
  sheet.date = today();
  sheet.paper = wish.paper == "letter" ? JobSheetPaper::letter : JobSheetPaper::a4;
  sheet.unit = wish.unit;
  return make_job_sheet(sheet);
}

void prepare_job_sheets() {
  // Made once and thrown away: libraries keep what they have found.
  JobSheetOptions wish;
  wish.target.sheet.width = Length::inches(8.5);
  wish.target.sheet.length = Length::inches(17);
  (void)job_sheet_pdf(wish, keyword_setup(wish.target, std::nullopt, Unit::inch), std::nullopt);
}

}  // namespace layright
