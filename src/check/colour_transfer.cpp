// It is the device's to apply them, and ISO 32000-2 deprecates them.
#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_transfer_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || art->transferred.count == 0) return {};
  auto f = art_finding(
      "colour.transfer", Level::note, art->transferred,
      counted(art->transferred.count, "mark has its tints", "marks have their tints") + " changed by a transfer function" +
          where_text(art->transferred, view.unit) +
          ": one press applies it and another does not, so that light may print dark; have the art saved without, in the colors that it is to have");
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo colour_transfer() {
  return {.id = "colour.transfer",
          .levels = "note",
          .title = "tints are changed by a transfer function",
          .measures = "marks that show and whose graphics state changes the tints of the inks by a function of its own, counted",
          .limit = "none",
          .source = "ISO 32000-1, 10.4; ISO 32000-2, 8.4.5",
          .does_not_cover = "functions that leave tints as they are; those of soft masks, which every reader applies",
          .explain =
              "A transfer function bends the tints of each ink on their way to the press, up to turning white into black. It was meant for one "
              "device; others may apply it or pass it over. layright takes it as applied wherever it asks what leaves ink.",
          .needs_marks = true,
          .page = colour_transfer_findings,
          .needs_art = true};
}

}  // namespace layright
