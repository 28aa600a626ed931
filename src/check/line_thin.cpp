#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> line_thin_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  return small_things({"line.thin", art->lines, view.target.limits.line_thin, "line is", "lines are",
                       "lines so thin may break or not hold on the film; draw them wider", "width_pt"},
                      view);
}

}  // namespace

CheckInfo line_thin() {
  return {.id = "line.thin",
          .levels = "note",
          .title = "a line is too thin to print or to hold on the film",
          .measures =
              "the width of strokes, and of filled rectangles at least four times as long as wide, at its narrowest, in points as "
              "printed",
          .limit = "at least 0.5 pt as printed (line-thin, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "lines drawn as outlines of another form; the strokes of letters",
          .explain =
              "A thin line breaks up in toner, and what does hold is torn away when the film is weeded. A width of 0 means the thinnest "
              "line that a device can draw (ISO 32000-1, 8.4.3.2): a hair on a fine press, nothing on film. Measured after the placement "
              "has scaled the art; lines that lie on something darker have a limit of their own.",
          .needs_marks = true,
          .page = line_thin_findings,
          .needs_art = true};
}

}  // namespace layright
