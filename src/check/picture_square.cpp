#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_square_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  double const limit = view.target.limits.pixel_ratio;
  Places odd;
  double worst = 0;
  for (PictureNote const& p : art->pictures) {
    double const least = std::min(p.ppi_along, p.ppi_down), most = std::max(p.ppi_along, p.ppi_down);
    if (std::min(p.width, p.height) < kLeastPixels || !(least > 0) || !clearly_above(most / least, limit)) continue;
    odd.add(p.shown);
    worst = std::max(worst, most / least);
  }
  if (odd.count == 0) return {};
  auto f = art_finding("picture.square", Level::note, odd,
                       counted(odd.count, "picture is", "pictures are") + " stretched more one way than the other" + where_text(odd, view.unit) +
                           ", the most by a factor of " + format_number(worst, 2) + ": look whether shapes in it are wide or narrow by accident");
  f.measured.emplace_back("ratio", worst);
  f.wanted = {{"ratio", limit}};
  return {f};
}

}  // namespace

CheckInfo picture_square() {
  return {.id = "picture.square",
          .levels = "note",
          .title = "a picture is stretched more in one direction than in the other",
          .measures = "the greater of a picture's two resolutions over the lesser",
          .limit = "at most 1.1 (pixel-ratio, of the limits)",
          .source = "our own",
          .explain =
              "Nearly all pictures have square pixels. One that does not was pulled out of shape when it was placed, by a hand that held "
              "the wrong handle, and faces and logos come out wide or narrow. Fax pages and some scans are made so on purpose. Pictures "
              "of fewer than 8 pixels a side do not count.",
          .needs_marks = true,
          .page = picture_square_findings,
          .needs_art = true};
}

}  // namespace layright
