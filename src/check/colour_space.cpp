#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_space_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  auto const& wanted = view.target.limits.colour_spaces;
  Places unwanted;
  std::vector<std::string> names;
  for (ColourNote const& c : art->colours) {
    if (std::ranges::find(wanted, c.space) != wanted.end()) continue;
    unwanted.add(c.marks);
    if (std::ranges::find(names, c.space) == names.end()) names.push_back(c.space);
  }
  if (unwanted.count == 0) return {};
  std::string list;
  for (auto const& w : wanted) list += (list.empty() ? "" : ", ") + w;
  auto f = art_finding("colour.space", Level::note, unwanted,
                       counted(unwanted.count, "mark is", "marks are") + " in " + names_text(names) + where_text(unwanted, view.unit) +
                           ", and this profile wants " + list + ": the press will convert " + (unwanted.count == 1 ? "it" : "them") +
                           "; ask for the file in the colors that suit, or look at a print");
  f.wanted = {{"spaces", list}};
  return {f};
}

}  // namespace

CheckInfo colour_space() {
  return {.id = "colour.space",
          .levels = "note",
          .title = "marks are in a color space that is not wanted",
          .measures = "color spaces that marks show in: gray, rgb, cmyk, lab, indexed, spot, inks, other",
          .limit = "all are wanted by default (colour-spaces, of the limits)",
          .source = "ISO 32000-1, 8.6; which ones a press takes well is common practice, no published source",
          .explain =
              "Presses differ in which colors they take as they are and which they convert. A profile can list the ones that suit: "
              "colour-spaces = [\"gray\", \"cmyk\", \"spot\"]. Reported are the spaces in which marks show, each with its count; the JSON lists all "
              "of them. A profile embedded in the file (ICC) counts by its number of components.",
          .needs_marks = true,
          .page = colour_space_findings,
          .needs_art = true};
}

}  // namespace layright
