#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_ppi_findings(PageView const& view) {
  Limits const& limits = view.target.limits;
  return density_findings({.id = "picture.ppi",
                           .ppi = limits.picture_ppi,
                           .bit_ppi = limits.bit_ppi,
                           .fault = " few pixels for the printed size",
                           .why = " are wanted: edges will be soft or stepped; ask for the picture in its original size"},
                          view);
}

}  // namespace

CheckInfo picture_ppi() {
  return {.id = "picture.ppi",
          .levels = "note",
          .title = "a picture has too few pixels for its printed size",
          .measures = "pixels to the inch as printed, along a picture's rows and columns, the lesser",
          .limit = "at least 150 ppi, one-bit pictures 600 ppi (picture-ppi and bit-ppi, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "pictures that are soft by themselves",
          .explain =
              "A picture of too few pixels prints soft or in visible steps, and one of black and white only shows its steps far sooner, "
              "so it has a limit of its own. Counted is what counts on the sheet: pixels to the inch after the placement has scaled the "
              "art. Pictures of fewer than 8 pixels a side are patterns, and one of a single color needs no "
              "more: neither counts. Ask for the original picture; "
              "enlarging it in a drawing program adds nothing.",
          .needs_marks = true,
          .page = picture_ppi_findings,
          .needs_art = true};
}

}  // namespace layright
