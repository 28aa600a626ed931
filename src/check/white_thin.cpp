#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

constexpr double kLeastThin = 0.05;  // square points: a hair's end. Our own

std::vector<Finding> white_thin_findings(PageView const& view) {
  if (!view.plate || view.plate->bare_pt2 < kLeastThin) return {};
  PlateNotes const& plate = *view.plate;
  bool const kept = view.target.plate.thin == ThinLines::keep;
  auto f = art_finding(
      "white.thin", Level::note, plate.bare,
      format_number(plate.bare_pt2, 1) + " square points of ink are too fine to get any white" + where_text(plate.bare, view.unit) +
          (kept ? ": draw them wider, or make the pull-in smaller" : ": draw them wider, make the pull-in smaller, or say thin = \"keep\""));
  f.measured = {{"area_pt2", plate.bare_pt2}, {"count", static_cast<double>(plate.bare.count)}};
  f.wanted = {{"pull_in_pt", view.target.plate.pull_in.in_points()}};
  return {f};
}

}  // namespace

CheckInfo white_thin() {
  return {.id = "white.thin",
          .levels = "note",
          .title = "ink is too fine to get white under it",
          .measures = "ink farther than twice the pull-in from any white of the plate, on a drawing at the press's resolution",
          .limit = "none; reported from a twentieth of a square point on",
          .source = "our own",
          .explain =
              "The white plate stays inside the ink by the pull-in on every side, so a line that is not twice as wide gets no white. With "
              "thin = \"keep\" such lines are pulled in by a half, and where that leaves nothing by a quarter. What is finer still lies on the bare "
              "goods: on dark ones it hardly shows.",
          .needs_marks = true,
          .page = white_thin_findings,
          .needs_plate = true};
}

}  // namespace layright
