#include "job/job_sheet_pdf.h"

#include <algorithm>
#include <utility>

namespace layright {

int pages_pictured(KnownFile const& file) { return std::min(file.file.pages, static_cast<int>(kMostPictures)); }

Result<std::string> job_sheet_pdf(JobSheetOptions const& options, PressSetup const& setup) {
  std::vector<PagePicture> pictures;
  InspectOptions limits;
  limits.target = options.target;
  int const pages = options.laid.empty() || !options.file ? 0 : pages_pictured(*options.file);
  for (int page = 1; page <= pages; ++page) {
    auto drawn = draw_page_of(options.laid, page, kJobSheetPictureSide, limits);
    pictures.push_back(drawn ? std::move(*drawn) : PagePicture());
  }
  return job_sheet_pdf(options, setup, std::move(pictures));
}

Result<std::string> job_sheet_pdf(JobSheetOptions const& options, PressSetup const& setup, std::vector<PagePicture> pictures) {
  if (options.paper != "a4" && options.paper != "letter") return Error{ErrorKind::usage, "--paper is a4 or letter"};
  JobSheet sheet;
  sheet.target = options.target;
  if (options.file) {
    sheet.file = options.file->file;
    sheet.ink = options.file->ink;
  }
  auto const list = operator_list(options.target, setup, sheet.file, options.unit);
  sheet.large = large_words(options.target, setup, options.unit);
  sheet.ticks = job_ticks(options.target, setup, sheet.file, options.unit);
  sheet.notes = list.watch;
  sheet.cautions = list.cautions;
  for (auto& picture : pictures) sheet.pictures.push_back({picture.width, picture.height, std::move(picture.rgb)});
  sheet.job = options.job;
  sheet.released = options.released;
  sheet.cuts = options.cuts;
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
  (void)job_sheet_pdf(options, keyword_setup(options.target, std::nullopt, Unit::inch), std::vector<PagePicture>());
}

}  // namespace layright
