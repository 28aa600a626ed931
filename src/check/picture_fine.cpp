#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_fine_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Limits const& limits = view.target.limits;
  Places fine;
  double worst = 0, worst_limit = 0;
  for (PictureNote const& p : art->pictures) {
    double const ppi = std::min(p.ppi_along, p.ppi_down) / print_scale(view), limit = p.one_bit ? limits.bit_fine_ppi : limits.picture_fine_ppi;
    if (!clearly_above(ppi, limit)) continue;
    fine.add(p.shown);
    if (worst_limit == 0 || ppi / limit > worst / worst_limit) {
      worst = ppi;
      worst_limit = limit;
    }
  }
  if (fine.count == 0) return {};
  auto f = art_finding("picture.fine", Level::note, fine,
                       counted(fine.count, "picture has", "pictures have") + " more pixels than the press can show" + where_text(fine, view.unit) +
                           ", the most " + format_number(worst, 0) + " to the inch where " + format_number(worst_limit, 0) +
                           " are plenty: the job is larger and slower than it need be");
  f.measured.emplace_back("ppi", worst);
  f.wanted = {{"ppi", worst_limit}};
  return {f};
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
