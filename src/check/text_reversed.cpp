#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> text_reversed_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  return small_things({"text.reversed", art->light_text, view.target.limits.text_reversed, "light text on a darker ground is set",
                       "light texts on a darker ground are set", "toner around such letters may close them up; set them larger or bolder", "em_pt"},
                      view);
}

}  // namespace

CheckInfo text_reversed() {
  return {.id = "text.reversed",
          .levels = "note",
          .title = "small light text lies on a darker ground",
          .measures = "the em of visible text that lies on something clearly darker, in points as printed",
          .limit = "at least 8 pt as printed (text-reversed, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "a ground that is made of letters or of thin shapes",
          .explain =
              "Letters left out of a dark ground close up when the toner spreads, the thin parts first. What lies beneath is judged by a "
              "map of the page of 64 by 64 cells.",
          .needs_marks = true,
          .page = text_reversed_findings,
          .needs_art = true};
}

}  // namespace layright
