// What lies over each other adds up by the rule of the Normal blend mode (ISO 32000-1, 11.3.5).
#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::string tint_text(double share) { return format_number(100 * share, share < 0.02 ? 1 : 0); }

std::vector<Finding> ink_faint_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.marks->ink || !view.marks->whole) return {};
  auto const& limits = view.target.limits;
  double area = 0;
  std::optional<Rect<SeenSpace>> where;
  double least = 1, most = 0;
  for (auto const& note : art->faint) {
    if (clearly_above(100 * note.tint, limits.faint_pct)) continue;
    area += note.area;
    where = united(where, std::optional(note.where));
    least = std::min(least, note.tint);
    most = std::max(most, note.tint);
  }
  auto const both = where ? intersection(*where, *view.marks->ink) : std::nullopt;
  double const share = both && view.marks->ink->area() > 0 ? std::min(100.0, 100 * area / view.marks->ink->area()) : 0;
  if (share < limits.faint_area_pct) return {};
  Places place;
  place.add(*both);
  std::string const from = tint_text(least), to = tint_text(most);
  std::string const covered = share >= 90 ? "all of the art" : format_number(share, 0) + " % of the art";
  auto f =
      art_finding("ink.faint", Level::note, place,
                  (from == to ? "a tint of " + to + " % covers " : "tints of " + from + " to " + to + " % cover ") + covered + " (" +
                      size_text(both->width(), both->height(), view.unit) + "): it will show as a box on the goods; take it out, or make it white");
  f.measured = {{"tint_pct", 100 * most}, {"share_pct", share}};
  f.wanted = {{"tint_pct", 0.0}, {"share_pct", limits.faint_area_pct}};
  return {f};
}

}  // namespace

CheckInfo ink_faint() {
  return {.id = "ink.faint",
          .levels = "note",
          .title = "a faint tint covers much of the art and would show as a box",
          .measures = "the area on which a tint of half a percent or more lies, nothing stronger over it, over the extents of all ink",
          .limit = "tints of at most 20 % on less than 25 % of the extents (faint-pct, faint-area-pct, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "faint texts and lines, faint cells of patterns, and what a soft mask makes faint",
          .explain =
              "A tint of a few percent looks white on a screen. The press lays its dots all the same, and on the goods they show as a box round "
              "the art. Scans bring it (the paper was not quite white), soft shadows bring it (many faint ones on each other add up), and so does "
              "a ground that is nearly white. Take it out, or set it to white, which is nothing on bare film.",
          .needs_marks = true,
          .page = ink_faint_findings,
          .needs_art = true};
}

}  // namespace layright
