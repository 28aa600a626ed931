#include <algorithm>
#include <array>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

/// The fonts that every reader has, or one of their measure (ISO 32000-1, 9.6.2.2).
constexpr std::array<std::string_view, 14> kStandard{
    "Times-Roman",           "Times-Bold", "Times-Italic", "Times-BoldItalic", "Helvetica",           "Helvetica-Bold", "Helvetica-Oblique",
    "Helvetica-BoldOblique", "Courier",    "Courier-Bold", "Courier-Oblique",  "Courier-BoldOblique", "Symbol",         "ZapfDingbats"};

std::vector<Finding> font_embedded_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.structure) return {};
  auto const& entries = view.structure->fonts;
  Places held, reported;
  std::vector<std::string> held_names, reported_names;
  for (FontNote const& font : art->fonts) {
    if (font.type3) continue;
    auto const named = [&](FontEntry const& e) { return e.name == font.name; };
    bool const known = std::ranges::any_of(entries, named);
    bool const embedded = std::ranges::any_of(entries, [&](FontEntry const& e) { return named(e) && e.embedded; });
    if (embedded || (!known && !font.replaced)) continue;
    bool const standard = std::ranges::find(kStandard, font.name) != kStandard.end();
    if (standard && !view.target.limits.standard_fonts) continue;
    (standard ? reported : held).add(font.glyphs);
    (standard ? reported_names : held_names).push_back(font.name);
  }
  std::vector<Finding> findings;
  if (held.count > 0) {
    bool const one = held_names.size() == 1;
    findings.push_back(art_finding("font.embedded", Level::hold, held,
                                   std::string(one ? "a font does not come with the file: " : "fonts do not come with the file: ") +
                                       names_text(held_names) + where_text(held, view.unit) +
                                       "; the press would take another one, and letters change their shape and width; have the file saved with its "
                                       "fonts embedded, or accept it with --accept font.embedded"));
  }
  if (reported.count > 0)
    findings.push_back(art_finding("font.embedded", Level::note, reported,
                                   names_text(reported_names) + (reported_names.size() == 1 ? " does" : " do") + " not come with the file" +
                                       where_text(reported, view.unit) +
                                       ": every reader has such a font, but letters may differ a little from what the customer saw"));
  return findings;
}

}  // namespace

CheckInfo font_embedded() {
  return {.id = "font.embedded",
          .levels = "hold; note for the standard 14 fonts where a profile asks",
          .title = "the letters of a font do not come with the file",
          .measures = "fonts that visible text shows in and that the file names without a font file",
          .limit = "none; standard-fonts = true, of the limits, tells the standard 14 as well",
          .source = "ISO 32000-1, 9.9 (embedded font programs) and 9.6.2.2 (the standard 14 fonts)",
          .does_not_cover = "fonts that no visible text uses",
          .explain =
              "A font that does not come with the file is replaced by another one on the press: letters change their shape and width, "
              "lines run over, signs go missing. That is a bad sheet for certain, so the file is held; have it saved with its fonts "
              "embedded, or the text turned into outlines. Fourteen standard fonts every reader must have or imitate, so they are reported "
              "only where a profile asks, as a note. A person who has looked can say --accept font.embedded.",
          .needs_marks = true,
          .page = font_embedded_findings,
          .needs_art = true};
}

}  // namespace layright
