#include "check/rows.h"
#include "place/correction.h"
#include "place/register_marks.h"

namespace layright {
namespace {

std::vector<Finding> white_register_findings(PageView const& view) {
  if (view.target.plate.from == PlateFrom::off || !view.target.plate.register_marks || !view.placement) return {};
  auto const* const placed = std::get_if<Placement>(view.placement);
  if (!placed) return {};
  auto const marks = register_marks(live_area_of_file(view.target), placed->ink);
  if (marks.size() >= kLeastRegisterMarks) return {};
  Finding f{.check = "white.register",
            .level = Level::hold,
            .message = "the art leaves no room for register marks inside the margin: lay it smaller, or say register-marks = false"};
  f.measured = {{"marks", static_cast<double>(marks.size())}};
  f.wanted = {{"marks", static_cast<double>(kLeastRegisterMarks)}};
  return {f};
}

}  // namespace

CheckInfo white_register() {
  return {
      .id = "white.register",
      .levels = "hold",
      .title = "there is no room for register marks",
      .measures = "how many of eight places at the edge of the live area, 18 pt wide, the extents of the ink leave free",
      .limit = "two",
      .source = "our own",
      .explain =
          "White that lies apart from its art is printed in a second pass. Register marks, crosses at the same places of both, show whether the two "
          "lie on each other. They lie inside the margin, in the corners and at the middles of the edges, where there is no art.",
      .needs_marks = true,
      .page = white_register_findings};
}

}  // namespace layright
