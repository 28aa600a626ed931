// Sheets of several pieces, told: as JSON for other programs, and in a few lines for the shop.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/length.h"
#include "geometry/matrix.h"
#include "geometry/space.h"
#include "report/job_sheet.h"

namespace layright {

/// One copy of one page, where it lies.
struct GangedCopy {
  std::string path, sha256;  // of its source
  int page = 1, copy = 1, of = 1, sheet = 1;
  int pdf_page = 1;  // of the sheet: another where white plates are pages of their own
  std::string label;
  Matrix<SeenSpace, SheetSpace> matrix;  // from what is seen of the source
  Rect<SheetSpace> cut_box;              // its ink on the sheet
  double area = 0;                       // that it takes of the film, in square points: of its cut box, or of its outline where that is cut
};

/// A cut that runs through all that is left: across the sheet, or along it.
struct StraightCut {
  int sheet = 1;
  bool across = true;
  double at = 0;            // from the lower or the left edge of the sheet, in points
  double from = 0, to = 0;  // along the other side
};

struct GangReport {
  int sheets = 0, bound = 0;
  int alone = 0;                       // sheets that it would take with one piece a sheet
  double used_pct = 0;                 // of the live area of all sheets, by the area of its pieces
  int labels_left_out = 0;             // for want of room
  std::optional<double> sheet_price;   // in `currency`
  std::string plate_output;            // of white plates in a file of their own
  std::string currency, output, held;  // `held`: why nothing was written
  std::vector<GangedCopy> copies;
  std::optional<double> mirrored_width;  // of the sheet, where the printed one is the file's mirror image: words tell of the printed one
  std::vector<StraightCut> cuts;         // in the order in which they are made; none where pieces are not parted by straight cuts
};

/// "7 sheets; no arrangement needs fewer than 7".
std::string sheets_words(GangReport const& report);
/// The straight cuts of each sheet, in the order in which they are made; nothing where there are none.
std::vector<SheetCuts> cut_list(GangReport const& report, Unit unit);
/// The manifest: see DESIGN, section 5.
std::string gang_manifest(GangReport const& report);
/// That, what it saves, and where it was written; `verbose`: each piece and each cut as well.
std::string gang_text(GangReport const& report, Unit unit, bool verbose);

}  // namespace layright
