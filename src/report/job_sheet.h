// The job sheet: one page of paper that goes with the film, for the person at the press. What must not go wrong is read from two meters.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "geometry/rect.h"
#include "geometry/space.h"
#include "setup/job_ticks.h"

namespace layright {

/// A picture of the laid page as the file shows it: rows from the top, three bytes a pixel. Empty where there is none.
struct LaidPicture {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgb;
};

enum class JobSheetPaper { a4, letter };

/// How a sheet of several pieces is cut, a line a cut.
struct SheetCuts {
  int sheet = 1;
  std::vector<std::string> lines;
};

struct JobSheet {
  Target target;
  LargeWords large;
  std::vector<Step> ticks;              // at most kMostTicks
  std::vector<std::string> notes;       // what else to mind
  std::vector<std::string> cautions;    // always the same four
  std::optional<JobFile> file;          // nothing: a sheet for the target, whatever the file
  std::optional<Rect<SheetSpace>> ink;  // where ink will lie
  std::vector<LaidPicture> pictures;    // of its first pages, at most kMostPictures
  std::string job;                      // what the barcode holds: `again` and `spoiled` take it; empty: no barcode
  std::vector<std::string> released;    // who released what, a line each
  std::vector<SheetCuts> cuts;          // on pages of their own
  std::string date;                     // as it is printed, and for the document's own date: YYYY-MM-DD
  JobSheetPaper paper = JobSheetPaper::a4;
  Unit unit = Unit::inch;
};
inline constexpr std::size_t kMostPictures = 6;
inline constexpr double kLargeLetters = 36;  // points: at 2 m DejaVu Sans's capitals are then 16 minutes of arc high (ISO 9241-303, from memory)

/// The sheet as a PDF of one page, and of more for the list of cuts where there is one, by PoDoFo in a module of its own. The first page holds all else: words become smaller to fit, and what would still
/// not fit is counted. All of it is text in embedded fonts, in any script that an installed font has; other characters are given as code
/// points. Errors (internal): the module or its font is missing.
Result<std::string> make_job_sheet(JobSheet const& sheet);

}  // namespace layright
