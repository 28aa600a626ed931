#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_blend_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || view.target.press.ppd.empty()) return {};
  std::vector<std::string> what;
  if (art->transparent.count > 0) what.push_back(counted(art->transparent.count, "half-clear mark", "half-clear marks"));
  if (art->soft_masks) what.emplace_back("soft masks");
  if (!art->blends.empty()) what.push_back("blend " + std::string(art->blends.size() == 1 ? "mode " : "modes ") + joined(art->blends));
  if (what.empty()) return {};
  return {art_finding("page.blend", Level::note, art->transparent,
                      joined(what) + where_text(art->transparent, view.unit) +
                          ": a PostScript press cannot do this, so it is flattened on the way; look at a print")};
}

}  // namespace

CheckInfo page_blend() {
  return {.id = "page.blend",
          .levels = "note",
          .title = "transparency that the press's language does not know",
          .measures = "half-clear marks, soft masks and blend modes, for a press that is driven by a PPD",
          .limit = "none",
          .source =
              "ISO 32000-1, 11 (transparency); the PostScript language, which PPD files describe presses for, has none (PostScript "
              "Printer Description File Format Specification 4.3, from memory)",
          .does_not_cover = "presses that take PDF",
          .explain =
              "PostScript knows neither half-clear marks nor blend modes, so on the way to such a press somebody flattens them: the "
              "driver, the queue or the RIP, and each in its own way. Thin lines at the borders, changed colors and coarse pictures come "
              "of it. Look at a print, or have the file flattened by the program that made it.",
          .needs_marks = true,
          .page = page_blend_findings,
          .needs_art = true};
}

}  // namespace layright
