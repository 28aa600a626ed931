#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> white_none_findings(PageView const& view) {
  if (!view.plate || view.plate->ink_pt2 <= 0 || view.plate->wanted_pt2 > 0 || view.plate->white_pt2 > 0) return {};
  return {Finding{.check = "white.none",
                  .level = Level::note,
                  .message = "the white plate of this page is empty: what the target lays white under (plate = \"" +
                             std::string(word(view.target.plate.from)) + "\") is nowhere on it, and nothing else gets white beneath"}};
}

}  // namespace

CheckInfo white_none() {
  return {.id = "white.none",
          .levels = "note",
          .title = "a white plate is asked for and has nothing on it",
          .measures = "the area of the plate",
          .limit = "more than none, where there is ink",
          .source = "our own",
          .explain =
              "A target may ask for white only under light colors, solid colors or where the art paints white itself. Art that has none of these "
              "gets no white at all: on dark goods it will hardly be seen. Use plate = \"all\" for it, or look whether it is meant so.",
          .needs_marks = true,
          .page = white_none_findings,
          .needs_plate = true};
}

}  // namespace layright
