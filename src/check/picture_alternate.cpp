#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_alternate_findings(PageView const& view) {
  if (!view.structure || view.structure->alternates == 0) return {};
  Places places;
  places.count = view.structure->alternates;
  auto f =
      art_finding("picture.alternate", Level::note, places,
                  counted(places.count, "picture brings", "pictures bring") +
                      " another one to be taken instead: what the press prints may differ from what you see; have the file saved without alternates");
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo picture_alternate() {
  return {.id = "picture.alternate",
          .levels = "note",
          .title = "a picture brings another one that may be printed instead",
          .measures = "pictures of the page that have alternates, counted",
          .limit = "none",
          .source = "ISO 32000-1, 8.9.5.4",
          .does_not_cover = "which of them a press takes",
          .explain =
              "A picture may carry others beside it: a small one for the screen, a large one for print, and readers choose. What you see "
              "need not be what the press prints. layright and most printers take the main one; if the file matters, have it saved "
              "without alternates.",
          .needs_marks = true,
          .page = picture_alternate_findings,
          .needs_art = true};
}

}  // namespace layright
