#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> white_paint_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.target.white_prints() || art->white.count == 0) return {};
  return {
      art_finding("white.paint", Level::note, art->white,
                  counted(art->white.count, "mark is", "marks are") + " painted white by the art itself" + where_text(art->white, view.unit) +
                      " and would be printed in white; what is white only because nothing is painted there stays bare: look whether that is meant")};
}

}  // namespace

CheckInfo white_paint() {
  return {.id = "white.paint",
          .levels = "note",
          .title = "the art paints white itself",
          .measures = "opaque paper-white marks that show, on a press that prints white",
          .limit = "none",
          .source = "common practice, no published source",
          .does_not_cover = "white pixels of pictures",
          .explain =
              "A press that lays white prints what the art paints white, and leaves bare what it does not: on a dark garment the one is "
              "white and the other the garment. White that the art takes from the paper will not be there. Look which of both the "
              "customer meant. On a press without white nothing is reported: there white marks are holes.",
          .needs_marks = true,
          .page = white_paint_findings,
          .needs_art = true};
}

}  // namespace layright
