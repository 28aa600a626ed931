#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_overprint_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  std::vector<Finding> findings;
  if (art->white_overprints.count > 0)
    findings.push_back(art_finding("colour.overprint", Level::note, art->white_overprints,
                                   counted(art->white_overprints.count, "white mark is", "white marks are") + " set to overprint" +
                                       where_text(art->white_overprints, view.unit) +
                                       ": on a press that obeys it is not there at all; have overprint switched off for white"));
  if (art->spot_overprints.count > 0)
    findings.push_back(art_finding("colour.overprint", Level::note, art->spot_overprints,
                                   counted(art->spot_overprints.count, "mark in a spot color is", "marks in spot colors are") + " set to overprint" +
                                       where_text(art->spot_overprints, view.unit) +
                                       ": it is mixed with what lies beneath; look whether that is meant"));
  return findings;
}

}  // namespace

CheckInfo colour_overprint() {
  return {.id = "colour.overprint",
          .levels = "note",
          .title = "white or a spot color is set to overprint",
          .measures = "marks that show in paper-white or in a spot color with overprint on",
          .limit = "none",
          .source = "ISO 32000-1, 8.6.7",
          .does_not_cover = "overprint of process inks, which is common in black text",
          .explain =
              "Overprint leaves what lies beneath untouched. White that overprints is not there at all on a press that obeys, and hides "
              "what lies beneath on one that does not: letters vanish or appear. A spot color that overprints is mixed with what lies "
              "beneath. Viewers often do not show it. Have overprint switched off for them.",
          .needs_marks = true,
          .page = colour_overprint_findings,
          .needs_art = true};
}

}  // namespace layright
