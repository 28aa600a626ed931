// Decides: whether annotations would print over the art.
// Inputs and units: the number of annotations of the page whose Print flag is set and that are not hidden.
// Source: ISO 32000-1, 12.5.3, Table 165.
// Does not cover: what they look like (they count as ink like all that prints).
// Findings: annot.print, note.
#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> run(PageView const& view) {
  int const count = view.page.printing_annotations;
  if (count <= 0) return {};
  Finding f{.check = "annot.print", .level = Level::note};
  f.message = counted(count, "annotation prints", "annotations print") + " (notes, stamps, form fields or the like): look whether " +
              (count == 1 ? "it belongs" : "they belong") + " to the art; `lay` makes " + (count == 1 ? "it" : "them") + " part of the page";
  f.measured = {{"count", static_cast<double>(count)}};
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo annot_print() {
  return {.id = "annot.print",
          .levels = "note",
          .title = "annotations print",
          .measures = "annotations whose Print flag is set and that are not hidden, counted",
          .limit = "none",
          .source = "ISO 32000-1, 12.5.3, Table 165",
          .explain =
              "Comments, stamps, highlights, links with a border and form fields lie over the page, and each says by itself whether it prints. "
              "A customer's remark in the corner would be printed onto the film. layright counts what prints as ink; `lay` makes it part of "
              "the page and leaves the other annotations out. If they should not print, delete them in a viewer and save the file.",
          .page = run};
}

}  // namespace layright
