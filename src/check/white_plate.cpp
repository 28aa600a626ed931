#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> white_plate_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || view.target.white_prints()) return {};
  Places marks;
  std::vector<std::string> names;
  for (ColourNote const& c : art->colours)
    for (auto const& ink : c.inks) {
      if (!is_white_ink(ink, view.target)) continue;
      marks.add(c.marks);
      if (std::ranges::find(names, ink) == names.end()) names.push_back(ink);
    }
  if (marks.count == 0) return {};
  return {art_finding("white.plate", Level::note, marks,
                      "the file brings a plate of white (" + names_text(names) + ")" + where_text(marks, view.unit) +
                          ", and this press lays no white: it would print the plate's stand-in; take it out, or choose a target that prints white")};
}

}  // namespace

CheckInfo white_plate() {
  return {.id = "white.plate",
          .levels = "note",
          .title = "the file has a plate of white, and the press lays none",
          .measures = "marks that show in a separation listed as white, on a press that prints no white",
          .limit = "names that are taken for white: White (white-inks, of the limits)",
          .source = "common practice, no published source",
          .explain =
              "Some art brings its white as a spot color, a plate of its own. A press without white prints that plate in the stand-in "
              "that the file gives for it, which may be a light gray, a pink or a blue, over or under the art. Take the plate out, or "
              "choose a target whose press prints white. The configuration lists the names that count: white-inks = [\"White\", "
              "\"Underbase\"].",
          .needs_marks = true,
          .page = white_plate_findings,
          .needs_art = true};
}

}  // namespace layright
