#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_marks_findings(PageView const& view) {
  if (!art_of(view) || static_cast<double>(view.marks->count) <= view.target.limits.most_marks) return {};
  double const count = static_cast<double>(view.marks->count);
  Finding f{.check = "page.marks", .level = Level::note};
  f.message = "the page has " + std::to_string(view.marks->count) + " marks, more than " + format_number(view.target.limits.most_marks, 0) +
              ": it will print slowly; have it saved as a picture if the press takes too long";
  f.measured = {{"count", count}};
  f.wanted = {{"count", view.target.limits.most_marks}};
  return {f};
}

}  // namespace

CheckInfo page_marks() {
  return {.id = "page.marks",
          .levels = "note",
          .title = "the page has very many marks",
          .measures = "marks painted, counted",
          .limit = "at most 100,000 (most-marks, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "marks that are slow by themselves",
          .explain =
              "Each mark costs the press a little time. Traced pictures and maps have hundreds of thousands, and a press may take minutes "
              "for such a page or run out of memory. If it matters, have the page saved as a picture at the resolution of the press.",
          .needs_marks = true,
          .page = page_marks_findings,
          .needs_art = true};
}

}  // namespace layright
