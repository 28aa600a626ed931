#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_mask_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  double const limit = view.target.limits.mask_ppi;
  Places coarse;
  double worst = 0;
  for (PictureNote const& p : art->pictures) {
    double const ppi = p.mask_ppi / print_scale(view);
    if (p.mask != PictureNote::Mask::soft || !clearly_below(ppi, limit)) continue;
    worst = coarse.count == 0 ? ppi : std::min(worst, ppi);
    coarse.add(p.shown);
  }
  if (coarse.count == 0) return {};
  auto f = art_finding("picture.mask", Level::note, coarse,
                       counted(coarse.count, "cut-out picture has a mask", "cut-out pictures have masks") + " of few pixels" +
                           where_text(coarse, view.unit) + ", the lowest " + format_number(worst, 0) + " to the inch where " +
                           format_number(limit, 0) + " are wanted: the outline will be stepped or blurred");
  f.measured.emplace_back("ppi", worst);
  f.wanted = {{"ppi", limit}};
  return {f};
}

}  // namespace

CheckInfo picture_mask() {
  return {.id = "picture.mask",
          .levels = "note",
          .title = "a soft mask has too few pixels for its printed size",
          .measures = "pixels to the inch of a picture's soft mask as printed, the lesser of both directions",
          .limit = "at least 150 ppi (mask-ppi, of the limits)",
          .source = "common practice, no published source",
          .explain =
              "A cut-out picture gets its outline from its mask, so a coarse mask gives a stepped or blurred outline however fine the "
              "picture is, and the outline is what is weeded. Ask for the picture cut out in its original size.",
          .needs_marks = true,
          .page = picture_mask_findings,
          .needs_art = true};
}

}  // namespace layright
