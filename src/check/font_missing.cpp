#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> font_missing_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Places missing;
  for (FontNote const& font : art->fonts)
    if (!font.replaced) missing.add(font.missing);
  if (missing.count == 0) return {};
  auto f = art_finding("font.missing", Level::note, missing,
                       counted(missing.count, "letter is", "letters are") + " missing in the font and " + (missing.count == 1 ? "shows" : "show") +
                           " as its sign for that" + where_text(missing, view.unit) + ", often an empty box: look at the place");
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo font_missing() {
  return {.id = "font.missing",
          .levels = "note",
          .title = "a letter is missing in its font",
          .measures = "visible glyphs of number 0 (.notdef) in embedded fonts, counted",
          .limit = "none",
          .source = "ISO 32000-1, 9.7.6.3; ISO/IEC 14496-22 (glyph 0 stands for what a font does not have)",
          .does_not_cover = "letters that a font has but draws empty",
          .explain =
              "Where a font has no glyph for a letter, it shows an empty box, a crossed one or a question mark, and prints it. Look at "
              "the place: the customer's program had the letter and the font in the file does not. Glyphs of number 0 that leave no ink "
              "do not count.",
          .needs_marks = true,
          .page = font_missing_findings,
          .needs_art = true};
}

}  // namespace layright
