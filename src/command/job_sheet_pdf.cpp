#include "command/job_sheet_pdf.h"

#include "intake/page_drawing.h"

namespace layright {
namespace {
constexpr int kPictureSide = 900;  // pixels: about 300 to the inch at the size that the picture has on the job sheet
}

Result<std::string> job_sheet_pdf(JobSheetWish const& wish, PressSetup const& setup) {
  if (wish.paper != "a4" && wish.paper != "letter") return Error{ErrorKind::usage, "--paper is a4 or letter"};
  JobSheet sheet;
  sheet.target = wish.target;
  if (wish.file) {
    sheet.file = wish.file->file;
    sheet.ink = wish.file->ink;
  }
  sheet.list = operator_list(wish.target, setup, sheet.file, wish.unit);
  if (!wish.laid.empty()) {
    InspectWish limits;
    limits.target = wish.target;
    if (auto drawn = draw_page_of(wish.laid, 1, kPictureSide, limits))
      sheet.picture = {drawn->width, drawn->height, std::move(drawn->rgb)};
  }
  sheet.date = today();
  sheet.paper = wish.paper == "letter" ? JobSheetPaper::letter : JobSheetPaper::a4;
  sheet.unit = wish.unit;
  return make_job_sheet(sheet);
}

}  // namespace layright
