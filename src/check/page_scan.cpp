#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_scan_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.marks->ink || !view.marks->whole || art->pictures.empty() || art->paths + art->texts + art->shadings > 0) return {};
  auto const& ink = *view.marks->ink;
  auto const& widest = *std::ranges::max_element(art->pictures, {}, [](PictureNote const& p) { return p.shown.area(); });
  auto const both = intersection(widest.shown, ink);
  double const share = both && ink.area() > 0 ? 100 * both->area() / ink.area() : 0;
  if (widest.stencil || share < view.target.limits.scan_pct) return {};
  Places place;
  place.add(widest.shown);
  auto f =
      art_finding("page.scan", Level::note, place,
                  "the page is a picture and nothing else, " + format_number(std::min(widest.ppi_along, widest.ppi_down) / print_scale(view), 0) +
                      " pixels to the inch as printed: letters and lines come out only as sharp as that; ask whether there is a drawing");
  f.measured = {{"share_pct", share}};
  f.wanted = {{"share_pct", view.target.limits.scan_pct}};
  return {f};
}

}  // namespace

CheckInfo page_scan() {
  return {.id = "page.scan",
          .levels = "note",
          .title = "the page is one picture and nothing else",
          .measures = "pictures over the extents of all ink, where no path, text or shading shows",
          .limit = "one picture covers less than 90 % of the extents (scan-pct, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "pages of several pictures side by side",
          .explain =
              "A scan or a screenshot saved as PDF has no letters and no lines of its own: all is pixels, and it comes out only as sharp "
              "as they are, with whatever paper, shadow or noise was around it. Ask whether the customer has the drawing itself.",
          .needs_marks = true,
          .page = page_scan_findings,
          .needs_art = true};
}

}  // namespace layright
