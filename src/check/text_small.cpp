#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> text_small_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  return small_things({"text.small", art->text, view.target.limits.text_small, "text is set", "texts are set",
                       "letters so small may not be legible once pressed; set them larger", "em_pt"},
                      view);
}

}  // namespace

CheckInfo text_small() {
  return {.id = "text.small",
          .levels = "note",
          .title = "text in one solid ink is too small",
          .measures =
              "the em of visible text in one solid ink, in points as printed; for a Type 3 font, which has none, its tallest "
              "letter over 0.7",
          .limit = "at least 6 pt as printed (text-small, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "letters that are outlines or pixels",
          .explain =
              "Small letters fill in or fall out on film. The size is that of the letters on the sheet, whatever the font size in the "
              "file says, since the file and the placement both may scale it.",
          .needs_marks = true,
          .page = text_small_findings,
          .needs_art = true};
}

}  // namespace layright
