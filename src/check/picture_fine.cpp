#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_fine_findings(PageView const& view) {
  Limits const& limits = view.target.limits;
  return density_findings({.id = "picture.fine",
                           .ppi = limits.picture_fine_ppi,
                           .bit_ppi = limits.bit_fine_ppi,
                           .most = true,
                           .fault = " more pixels than the press can show",
                           .why = " are plenty: the job is larger and slower than it need be"},
                          view);
}

}  // namespace

CheckInfo picture_fine() {
  return {.id = "picture.fine",
          .levels = "note",
          .title = "a picture has far more pixels than the press can show",
          .measures = "pixels to the inch as printed, along a picture's rows and columns, the lesser",
          .limit = "at most 600 ppi, one-bit pictures 2,400 ppi (picture-fine-ppi and bit-fine-ppi, of the limits)",
          .source = "common practice, no published source",
          .explain =
              "More pixels than the press resolves do no harm to the print, but make the file large and slow to send and to rasterise. It "
              "is worth knowing when a job takes minutes for no reason: save the picture at its printed size. Counted after the placement "
              "has scaled the art.",
          .needs_marks = true,
          .page = picture_fine_findings,
          .needs_art = true};
}

}  // namespace layright
