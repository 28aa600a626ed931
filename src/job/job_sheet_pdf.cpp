#include "job/job_sheet_pdf.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sheet/sizes.h"

namespace layright {

namespace {

constexpr Length kSameSize = Length::millimetres(1);  // a size told in inches is rounded so

}  // namespace

JobSheetPaper usual_paper(Sheet const& sheet, Unit unit) {
  if (unit != Unit::inch) return JobSheetPaper::a4;
  auto const same = [](Length a, Length b) { return std::abs(a.in_points() - b.in_points()) <= kSameSize.in_points(); };
  bool const iso = std::ranges::any_of(named_sizes(), [&](NamedSize const& named) {
    return named.source.starts_with("ISO") && same(named.size.width, sheet.width) && same(named.size.length, sheet.length);
  });
  return iso ? JobSheetPaper::a4 : JobSheetPaper::letter;
}

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
  if (!options.paper.empty() && options.paper != "a4" && options.paper != "letter") return Error{ErrorKind::usage, "--paper is a4 or letter"};
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
  sheet.paper = options.paper.empty()       ? usual_paper(options.target.sheet, options.unit)
                : options.paper == "letter" ? JobSheetPaper::letter
                                            : JobSheetPaper::a4;
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
