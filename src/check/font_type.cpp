#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> font_type_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Places shown;
  for (FontNote const& font : art->fonts)
    if (font.type3) shown.add(font.glyphs);
  if (shown.count == 0) return {};
  auto f = art_finding("font.type", Level::note, shown,
                       counted(shown.count, "letter shows", "letters show") + " in a font made of drawings (Type 3)" + where_text(shown, view.unit) +
                           ": look whether they are pictures of few pixels, which print in steps");
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo font_type() {
  return {.id = "font.type",
          .levels = "note",
          .title = "text shows in a font made of drawings (Type 3)",
          .measures = "fonts of Type 3 that visible text shows in",
          .limit = "none",
          .source = "ISO 32000-1, 9.6.5",
          .does_not_cover = "whether their letters are pictures",
          .explain =
              "The letters of a Type 3 font are small drawings, often pictures of few pixels made for a screen. They print as they are: "
              "stepped when enlarged, and without the care that a press gives to small letters. Ask for the file from a program that "
              "keeps its fonts.",
          .needs_marks = true,
          .page = font_type_findings,
          .needs_art = true};
}

}  // namespace layright
