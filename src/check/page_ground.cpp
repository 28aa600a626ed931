#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_ground_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !art->ground || !view.marks->ink) return {};
  GroundNote const& ground = *art->ground;
  auto const& ink = *view.marks->ink;
  auto const both = intersection(ground.where, ink);
  if (!both || !(ink.area() > 0) || (ground.white && !view.target.white_prints())) return {};
  long const marks = art->paths + art->texts + art->shadings + static_cast<long>(art->pictures.size());
  double const share = 100 * both->area() / ink.area();
  if (share < view.target.limits.ground_pct || marks <= ground.before + 1) return {};
  Places place;
  place.add(ground.where);
  auto f = art_finding("page.ground", Level::note, place,
                       std::string("a flat ") + (ground.white ? "white" : "coloured") + " ground of " +
                           size_text(ground.where.width(), ground.where.height(), view.unit) +
                           " lies behind the art and would print as a solid block: take it out unless the goods are to show it");
  f.measured = {{"share_pct", share}};
  f.wanted = {{"share_pct", view.target.limits.ground_pct}};
  return {f};
}

}  // namespace

CheckInfo page_ground() {
  return {.id = "page.ground",
          .levels = "note",
          .title = "a flat ground lies behind the art and would print as a block",
          .measures = "the largest flat opaque rectangle that other marks follow, over the extents of all ink",
          .limit = "less than 90 % of the extents of all ink (ground-pct, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "grounds of another form, and those that a picture brings",
          .explain =
              "Programs often put a box of one color behind the art. On paper a white one is nothing; on a press that lays white it "
              "prints as a solid block round the art, and a colored one does so on every press. It is reported where the box covers nearly "
              "all of the ink and other marks lie on it. Take it out unless the goods are to show a block.",
          .needs_marks = true,
          .page = page_ground_findings,
          .needs_art = true};
}

}  // namespace layright
