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
  auto const ground_pct = view.target.limits.ground_pct;
  auto const marks = without_grounds(art->white, *view.marks->ink, ground_pct);
  auto const parts = without_grounds(art->white_in_pictures, *view.marks->ink, ground_pct);
  auto lost = marks;
  lost.add(parts);
  if (lost.count <= 0) return {};
  std::string text = marks.count > 0 ? counted(marks.count, "white mark", "white marks") : "";
  if (parts.count > 0) text += (text.empty() ? "" : " and ") + counted(parts.count, "white part of a picture", "white parts of pictures");
  bool const dark = view.target.dark_goods || view.target.white.on;
  std::string const advice = dark ? ": the goods are dark and will show there; print it on a press with white, or accept it with --accept white.lost"
                                  : ": the goods will show there";
  return {art_finding("white.lost", dark ? Level::hold : Level::note, lost,
                      "white parts will not print, this press lays no white: " + text + where_text(lost, view.unit) + advice)};
}

}  // namespace

CheckInfo white_lost() {
  return {
      .id = "white.lost",
      .levels = "note, or hold where the target's goods are dark or it wants white",
      .title = "white parts of the art will not print",
      .measures = "opaque paper-white beside other ink, of marks and inside pictures, on a press that lays no white",
      .limit =
          "none; white behind as much of the ink as a ground is (ground-pct) does not count, nor in pictures what is smaller than 2 square points",
      .source = "common practice, no published source",
      .does_not_cover = "white that other marks cover; in a picture on white paper, plain white shapes, which look like the insides of letters",
      .explain =
          "Without white toner a white letter is a hole: the goods show through it. On white goods that looks right, on all others the "
          "letter is gone. Where the target says goods = \"dark\", somebody must look: print it on a press that lays white, or ask for art "
          "in other colors. A white page behind all of the art is what many programs paint for paper, and is not reported. In a picture, white that "
          "runs to its "
          "edge is paper as well; white that ink encloses counts, and so does all that lies beside clear pixels.",
      .needs_marks = true,
      .page = white_lost_findings,
      .needs_art = true};
}

}  // namespace layright
