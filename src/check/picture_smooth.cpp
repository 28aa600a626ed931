#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_smooth_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  double const limit = view.target.limits.picture_ppi;
  Places smoothed;
  for (PictureNote const& p : art->pictures)
    if (p.interpolate && clearly_below(std::min(p.ppi_along, p.ppi_down) / print_scale(view), limit)) smoothed.add(p.shown);
  if (smoothed.count == 0) return {};
  auto f = art_finding("picture.smooth", Level::note, smoothed,
                       counted(smoothed.count, "picture asks", "pictures ask") + " to be smoothed" + where_text(smoothed, view.unit) +
                           ": a viewer may do it, the press may not, and then its pixels show as steps");
  f.wanted = {{"ppi", limit}};
  return {f};
}

}  // namespace

CheckInfo picture_smooth() {
  return {.id = "picture.smooth",
          .levels = "note",
          .title = "a picture of few pixels asks to be smoothed, which not every press does",
          .measures = "pictures with Interpolate set, and their pixels to the inch as printed",
          .limit = "below 150 ppi (picture-ppi, of the limits)",
          .source = "ISO 32000-1, 8.9.5.3",
          .explain =
              "A picture can ask that it be smoothed when it is enlarged. A viewer may do it, a press may not, and then steps show that "
              "nobody saw on the screen. Reported only where the picture has so few pixels that it matters.",
          .needs_marks = true,
          .page = picture_smooth_findings,
          .needs_art = true};
}

}  // namespace layright
