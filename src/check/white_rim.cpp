#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

constexpr double kLeastRim = 0.5;  // square points. Our own

Finding rim_finding(PageView const& view, Places const& places, double area, std::string const& what, std::string const& fix) {
  auto f = art_finding("white.rim", Level::note, places,
                       format_number(area, 1) + what + " within half the pull-in of the edge" + where_text(places, view.unit) +
                           ": a little out of place it shows as a white rim; " + fix);
  f.measured = {{"area_pt2", area}, {"count", static_cast<double>(places.count)}};
  f.wanted = {{"pull_in_pt", view.target.plate.pull_in.in_points() / 2}};
  return f;
}

std::vector<Finding> white_rim_findings(PageView const& view) {
  if (!view.plate) return {};
  PlateNotes const& plate = *view.plate;
  std::vector<Finding> findings;
  if (plate.rim_pt2 >= kLeastRim)
    findings.push_back(rim_finding(view, plate.rim, plate.rim_pt2, " square points of white lie", "draw these lines wider, or say thin = \"bare\""));
  if (plate.own_rim_pt2 >= kLeastRim)
    findings.push_back(rim_finding(view, plate.own_rim, plate.own_rim_pt2,
                                   " square points of the art's own white (" + view.target.press.white_ink + ") lie outside or",
                                   "have that plate made smaller, or take it out and have it made from the art"));
  return findings;
}

}  // namespace

CheckInfo white_rim() {
  return {.id = "white.rim",
          .levels = "note",
          .title = "white lies so near to bare ground that it may show as a rim",
          .measures =
              "white of the plate, and of the art's own in the white ink, within half the pull-in of what has no ink, on a drawing at the press's "
              "resolution",
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
