// Which piece comes to lie where: from pages that were laid alone to what is written of each sheet, and told of it. Values in, values out.
#pragma once
#include <string>
#include <vector>

#include "base/result.h"
#include "gang/gang.h"
#include "place/place.h"
#include "report/gang_report.h"
#include "sheet/target.h"
#include "write/gang_sheets.h"

namespace layright {

/// A page that was laid alone, as it is wanted.
struct WantedPage {
  std::string path, sha256;  // of its source
  int page = 1;              // of the source
  int laid = 1;              // among all pages that were laid, from 1
  Placement placement;       // from what is seen of the source, as it was laid; with ink
  int count = 1;
  std::string label;
  PieceTurns turns = PieceTurns::quarter;
  std::shared_ptr<InkShape const> shape = {};  // of its ink on the laid page, for Cuts::shape
};

/// A sheet as it is written, and as it is proved.
struct GangSheetPlan {
  GangedSheet sheet;
  std::vector<Rect<SheetSpace>> cut_boxes;  // of its pieces, in the file
};

struct GangPlan {
  std::vector<GangSheetPlan> sheets;
  Rect<SheetSpace> live;  // of the file
  GangReport report;      // but for its output
};

/// Of all that is planned the one sheet, from 1: its pieces lie as they would. Error (usage): there is none of that number.
Result<GangPlan> only_sheet(GangPlan plan, int sheet);

/// The live area of the file as pieces have it, before the press's correction.
Rect<SheetSpace> live_area_of_gang(Target const& target);
/// The ink of a page that was laid alone, likewise.
Rect<SheetSpace> ink_of_piece(Placement const& placement, Target const& target);

/// Error (hold): a piece that fits no sheet, or more pieces than can be meant.
Result<GangPlan> plan_gang(std::vector<WantedPage> const& pages, Target const& target, GangOptions const& options, Unit unit);

}  // namespace layright
