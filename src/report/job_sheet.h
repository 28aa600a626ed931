// The job sheet: one page of paper that goes with the film, for the person at the press.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "geometry/rect.h"
#include "geometry/space.h"
#include "setup/operator_list.h"

namespace layright {

/// A picture of the laid page as the file shows it: rows from the top, three bytes a pixel. Empty where there is none.
struct LaidPicture {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgb;
};

enum class JobSheetPaper { a4, letter };

struct JobSheet {
  Target target;
  OperatorList list;
  std::optional<JobFile> file;          // nothing: a sheet for the target, whatever the file
  std::optional<Rect<SheetSpace>> ink;  // where ink will lie
  LaidPicture picture;
  std::string date;  // as it shall be printed, and for the document's own date: YYYY-MM-DD
  JobSheetPaper paper = JobSheetPaper::a4;
  Unit unit = Unit::inch;
};

/// The sheet as a PDF of one page, by PoDoFo in a module of its own. Always one page: words become smaller to fit, and what would still
/// not fit is counted. All of it is text in embedded fonts, in any script that an installed font has; other characters are given as code
/// points. Errors (internal): the module or its font is missing.
Result<std::string> make_job_sheet(JobSheet const& sheet);

}  // namespace layright
