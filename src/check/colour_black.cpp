#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_black_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  return small_things({"colour.black", art->rich_text, view.target.limits.rich_text, "black text of several inks is set",
                       "black texts of several inks are set", "other inks show as colored fringes; set them in black alone", "em_pt"},
                      view);
}

}  // namespace

CheckInfo colour_black() {
  return {.id = "colour.black",
          .levels = "note",
          .title = "small black text is made of several inks",
          .measures = "the em of black text with other inks in it, in points as printed",
          .limit = "from 12 pt on it may be (rich-text, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "black text in red, green and blue, which the press makes black",
          .explain =
              "Black made of black and other inks is deep on large areas. In small letters the other inks show as colored fringes "
              "wherever they do not lie exactly over the black, and much toner in a thin stroke breaks off. Set small text in black "
              "alone.",
          .needs_marks = true,
          .page = colour_black_findings,
          .needs_art = true};
}

}  // namespace layright
