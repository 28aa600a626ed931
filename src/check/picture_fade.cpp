#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_fade_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Places fading;
  for (PictureNote const& p : art->pictures)
    if (p.fades) fading.add(p.shown);
  if (fading.count == 0) return {};
  auto f = art_finding("picture.fade", Level::note, fading,
                       counted(fading.count, "picture fades", "pictures fade") + " out into nothing" + where_text(fading, view.unit) +
                           ": on film the fade becomes loose dots or a hard edge; let the art end in a clean edge or a solid color");
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo picture_fade() {
  return {.id = "picture.fade",
          .levels = "note",
          .title = "a picture fades out into nothing",
          .measures = "soft masks with areas, not only edges, that are neither clear nor opaque",
          .limit = "half-clear areas of more than a thousandth of the mask, farther than 3 pixels from anything clear or opaque",
          .source = "common practice, no published source",
          .does_not_cover = "fades of drawn objects",
          .explain =
              "A glow, a soft shadow or a feathered edge is printed as dots that grow smaller. On film that weeds itself each dot either "
              "holds on its own or falls out, so the fade ends in a sprinkle or a hard edge, and on a dark garment it shows as a rough "
              "rim. Let the art end in a clean edge, or end the fade in a solid color. An edge that was only smoothed over a pixel or "
              "two does not count.",
          .needs_marks = true,
          .page = picture_fade_findings,
          .needs_art = true};
}

}  // namespace layright
