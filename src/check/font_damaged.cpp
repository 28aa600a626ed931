#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> font_damaged_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.structure) return {};
  Places damaged;
  std::vector<std::string> names;
  for (FontNote const& font : art->fonts) {
    auto const embedded = [&](FontEntry const& e) { return e.name == font.name && e.embedded; };
    auto const bare = [&](FontEntry const& e) { return e.name == font.name && !e.embedded; };
    if (!font.replaced || font.type3 || std::ranges::any_of(view.structure->fonts, bare) || std::ranges::none_of(view.structure->fonts, embedded))
      continue;
    damaged.add(font.glyphs);
    names.push_back(font.name);
  }
  if (damaged.count == 0) return {};
  return {art_finding("font.damaged", Level::hold, damaged,
                      "what the file brings of " + names_text(names) + " cannot be read" + where_text(damaged, view.unit) +
                          ": another font would be printed instead; have the file saved again, or accept it with --accept font.damaged")};
}

}  // namespace

CheckInfo font_damaged() {
  return {.id = "font.damaged",
          .levels = "hold",
          .title = "a font comes with the file but cannot be read",
          .measures = "embedded fonts that visible text shows in and that the reader had to replace",
          .limit = "none",
          .source = "ISO 32000-1, 9.9",
          .does_not_cover = "fonts that one reader takes and another does not",
          .explain =
              "The file brings the font, but its program is broken, so a reader takes another one: letters change their shape, or the "
              "text is lost. Presses differ in what they make of it. Have the file saved again by the program that made it, or the text "
              "turned into outlines.",
          .needs_marks = true,
          .page = font_damaged_findings,
          .needs_art = true};
}

}  // namespace layright
