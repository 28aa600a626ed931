#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_spot_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Places marks;
  std::vector<std::string> names;
  for (ColourNote const& c : art->colours) {
    bool counted_already = false;
    for (auto const& ink : c.inks) {
      if (is_process_ink(ink) || is_white_ink(ink, view.target)) continue;
      if (!counted_already) marks.add(c.marks);
      counted_already = true;
      if (std::ranges::find(names, ink) == names.end()) names.push_back(ink);
    }
  }
  if (names.empty()) return {};
  auto f = art_finding("colour.spot", Level::note, marks,
                       counted(static_cast<long>(names.size()), "spot color is", "spot colors are") + " used: " + names_text(names) +
                           where_text(marks, view.unit) + "; a press without " + (names.size() == 1 ? "it" : "them") +
                           " mixes something like it: compare a print with the customer's swatch");
  f.measured = {{"count", static_cast<double>(names.size())}};
  return {f};
}

}  // namespace

CheckInfo colour_spot() {
  return {.id = "colour.spot",
          .levels = "note",
          .title = "spot colors are used",
          .measures = "the names of the separations that marks show in, but for the inks of the process and those listed as white",
          .limit = "none",
          .source = "ISO 32000-1, 8.6.6.4 and 8.6.6.5; that a press of four toners mixes them is common practice, no published source",
          .explain =
              "A spot color stands for an ink of its own. A press without it mixes something like it from its own toners by the stand-in "
              "that the file gives, which can be far from the swatch that the customer has in hand. Names that the configuration lists as "
              "white (white-inks) are not reported here.",
          .needs_marks = true,
          .page = colour_spot_findings,
          .needs_art = true};
}

}  // namespace layright
