#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

/// White that lies behind all of the art is the paper that a program painted, and nobody misses it.
Places without_grounds(Places places, Rect<SeenSpace> const& ink, double ground_pct) {
  auto const is_ground = [&](Rect<SeenSpace> const& where) {
    auto const behind = intersection(where, ink);
    return behind && behind->area() * 100 >= ink.area() * ground_pct;
  };
  places.count -= static_cast<long>(std::erase_if(places.first, is_ground));
  return places;
}

std::vector<Finding> white_lost_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || view.target.white_prints() || !view.marks->ink) return {};
  auto const lost = without_grounds(art->white, *view.marks->ink, view.target.limits.ground_pct);
  if (lost.count <= 0) return {};
  bool const dark = view.target.dark_goods || view.target.white.on;
  std::string const mend = dark ? ": the goods are dark and will show there; print it on a press with white, or accept it with --accept white.lost"
                                : ": the goods will show there";
  return {art_finding("white.lost", dark ? Level::hold : Level::note, lost,
                      "white parts will not print, this press lays no white: " + counted(lost.count, "white mark", "white marks") +
                          where_text(lost, view.unit) + mend)};
}

}  // namespace

CheckInfo white_lost() {
  return {.id = "white.lost",
          .levels = "note, or hold where the target's goods are dark or it wants white",
          .title = "white parts of the art will not print",
          .measures = "opaque paper-white marks beside other ink, on a press that lays no white",
          .limit = "none; a white mark behind as much of the ink as a ground is (ground-pct) is not counted",
          .source = "common practice, no published source",
          .does_not_cover = "white pixels of pictures; white that other marks cover",
          .explain =
              "Without white toner a white letter is a hole: the goods show through it. On white goods that looks right, on all others the "
              "letter is gone. Where the target says goods = \"dark\", somebody must look: print it on a press that lays white, or ask for art "
              "in other colors. A white page behind all of the art is what many programs paint for paper, and is not reported.",
          .needs_marks = true,
          .page = white_lost_findings,
          .needs_art = true};
}

}  // namespace layright
