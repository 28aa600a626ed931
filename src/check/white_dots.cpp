#include "check/art.h"
#include "check/rows.h"
#include "geometry/length.h"

namespace layright {
namespace {

constexpr double kLeastShare = 0.7;  // of the ink that was to have white. Our own: half-tones measured 0.5, solid art 0.95

std::vector<Finding> white_dots_findings(PageView const& view) {
  if (!view.plate || view.plate->wanted_pt2 <= 0 || view.plate->white_pt2 >= kLeastShare * view.plate->wanted_pt2) return {};
  double const share = 100 * view.plate->white_pt2 / view.plate->wanted_pt2;
  Finding f{.check = "white.dots",
            .level = Level::note,
            .message = "white lies under only " + format_number(share, 0) +
                       " % of the ink: art of dots or fine lines loses it to the pull-in; have it made of solid color, or make the pull-in smaller"};
  f.measured = {{"share_pct", share}};
  f.wanted = {{"share_pct", 100 * kLeastShare}};
  return {f};
}

}  // namespace

CheckInfo white_dots() {
  return {.id = "white.dots",
          .levels = "note",
          .title = "art of dots or fine lines loses much of its white",
          .measures = "the area of the plate by that of the ink that was to have white",
          .limit = "at least 70 %",
          .source = "our own",
          .explain =
              "Every dot of a half-tone loses the pull-in all around. Where the art is dots or fine lines throughout, little white is left under it, "
              "and on dark goods it looks dull.",
          .needs_marks = true,
          .page = white_dots_findings,
          .needs_plate = true};
}

}  // namespace layright
