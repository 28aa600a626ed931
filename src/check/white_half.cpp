#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> white_half_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.target.white_prints() || art->half_white.count == 0) return {};
  return {art_finding("white.half", Level::note, art->half_white,
                      counted(art->half_white.count, "white mark is", "white marks are") + " half clear" + where_text(art->half_white, view.unit) +
                          ": they become dots of white or nothing; have them made a solid color")};
}

}  // namespace

CheckInfo white_half() {
  return {.id = "white.half",
          .levels = "note",
          .title = "white is half clear",
          .measures = "paper-white marks that are not opaque, on a press that prints white",
          .limit = "none",
          .source = "common practice, no published source",
          .does_not_cover = "half-clear white in pictures",
          .explain =
              "Half-clear white lightens what lies beneath on the screen. A press that lays white prints it as dots of white, or as none, "
              "and self-weeding film keeps only some of them. Have it made a solid color.",
          .needs_marks = true,
          .page = white_half_findings,
          .needs_art = true};
}

}  // namespace layright
