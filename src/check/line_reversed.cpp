#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> line_reversed_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  return small_things({"line.reversed", art->light_lines, view.target.limits.line_reversed, "light line on a darker ground is",
                       "light lines on a darker ground are", "toner around such lines may close them up; draw them wider", "width_pt"},
                      view);
}

}  // namespace

CheckInfo line_reversed() {
  return {.id = "line.reversed",
          .levels = "note",
          .title = "a light line on a darker ground is too thin to stay open",
          .measures = "the width of strokes and thin rectangles that lie on something clearly darker, in points as printed",
          .limit = "at least 1 pt as printed (line-reversed, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "lines on a ground that is made of letters or of thin shapes",
          .explain =
              "A line that is left out of a dark ground is bordered by toner on both sides, which spreads when it is fused and again when "
              "it is pressed, so it closes up sooner than a printed line of the same width disappears. What lies beneath is judged by a "
              "map of the page of 64 by 64 cells.",
          .needs_marks = true,
          .page = line_reversed_findings,
          .needs_art = true};
}

}  // namespace layright
