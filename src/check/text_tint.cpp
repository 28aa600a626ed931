#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> text_tint_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  return small_things(
      {"text.tint", art->tinted_text, view.target.limits.text_tint, "text in a tint or in several inks is set",
       "texts in a tint or in several inks are set", "dots or shifted inks will fray the letters; set them larger or in one solid ink", "em_pt"},
      view);
}

}  // namespace

CheckInfo text_tint() {
  return {.id = "text.tint",
          .levels = "note",
          .title = "small text is half-toned or printed in several inks",
          .measures = "the em of visible text that is not in one solid ink, in points as printed",
          .limit = "at least 8 pt as printed (text-tint, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "spot inks that the press mixes from others",
          .explain =
              "A tint is made of dots, and several inks never lie exactly over each other, so the edges of small letters fray. Colors "
              "given as red, green and blue are counted in the inks that the simplest conversion (ISO 32000-1, 10.3.5) makes of them.",
          .needs_marks = true,
          .page = text_tint_findings,
          .needs_art = true};
}

}  // namespace layright
