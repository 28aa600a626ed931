#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

constexpr double kLeastRim = 0.5;  // square points. Our own

std::vector<Finding> white_rim_findings(PageView const& view) {
  if (!view.plate || view.plate->rim_pt2 < kLeastRim) return {};
  PlateNotes const& plate = *view.plate;
  auto f = art_finding("white.rim", Level::note, plate.rim,
                       format_number(plate.rim_pt2, 1) + " square points of white lie within half the pull-in of the edge" +
                           where_text(plate.rim, view.unit) +
                           ": a little out of place it shows as a white rim; draw these lines wider, or say thin = \"bare\"");
  f.measured = {{"area_pt2", plate.rim_pt2}, {"count", static_cast<double>(plate.rim.count)}};
  f.wanted = {{"pull_in_pt", view.target.plate.pull_in.in_points() / 2}};
  return {f};
}

}  // namespace

CheckInfo white_rim() {
  return {.id = "white.rim",
          .levels = "note",
          .title = "white lies so near to bare ground that it may show as a rim",
          .measures = "white of the plate within half the pull-in of what has no ink, on a drawing at the press's resolution",
          .limit = "half the pull-in; reported from half a square point on",
          .source = "common practice, no published source",
          .explain =
              "White and color never lie exactly on each other. The pull-in hides that: white stays so far inside the ink. Lines too fine for "
              "it keep a thin core of white, and where the core lies within half the pull-in of the edge it can peep out beside the color.",
          .needs_marks = true,
          .page = white_rim_findings,
          .needs_plate = true};
}

}  // namespace layright
