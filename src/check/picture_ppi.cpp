#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_ppi_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Limits const& limits = view.target.limits;
  Places low;
  double worst = 0, worst_limit = 0;
  for (PictureNote const& p : art->pictures) {
    double const ppi = std::min(p.ppi_along, p.ppi_down) / print_scale(view), limit = p.one_bit ? limits.bit_ppi : limits.picture_ppi;
    if (std::min(p.width, p.height) < kLeastPixels || !(ppi > 0) || !clearly_below(ppi, limit)) continue;
    low.add(p.shown);
    if (worst_limit == 0 || ppi / limit < worst / worst_limit) {
      worst = ppi;
      worst_limit = limit;
    }
  }
  if (low.count == 0) return {};
  auto f = art_finding("picture.ppi", Level::note, low,
                       counted(low.count, "picture has", "pictures have") + " few pixels for the printed size" + where_text(low, view.unit) +
                           ", the lowest " + format_number(worst, 0) + " to the inch where " + format_number(worst_limit, 0) +
                           " are wanted: edges will be soft or stepped; ask for the picture in its original size");
  f.measured.emplace_back("ppi", worst);
  f.wanted = {{"ppi", worst_limit}};
  return {f};
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
              "art. Pictures of fewer than 8 pixels a side are patterns or plain colours and do not count. Ask for the original picture; "
              "enlarging it in a drawing program adds nothing.",
          .needs_marks = true,
          .page = picture_ppi_findings,
          .needs_art = true};
}

}  // namespace layright
