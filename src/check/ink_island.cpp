#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> ink_island_findings(PageView const& view) {
  if (!view.weed) return {};
  return small_pieces(
      {"ink.island", view.weed->ink, "piece of ink is", "pieces of ink are",
       "this is art of dots, such as a half-tone, a texture or a grainy picture; on film that weeds itself most of its dots may be torn away",
       "specks and hairs so fine may be torn away with the film's coat; draw them larger or take them out", true},
      view);
}

}  // namespace

CheckInfo ink_island() {
  return {
      .id = "ink.island",
      .levels = "note",
      .title = "a piece of ink is too small to hold when the film is weeded",
      .measures =
          "the width (of the largest disc that fits) and area of each piece of ink that hangs together, and of its thin parts, in "
          "points and square points as printed, on a drawing at the press's resolution",
      .limit =
          "at least 0.5 pt wide and as large as a square of 0.7 pt; a hair that hangs on something wider may be 6 pt long (weed-width, "
          "weed-square and weed-length, of the limits)",
      .source = "common practice, no published source",
      .does_not_cover =
          "dots of tints, which the press makes; lines thinner than a pixel of the press "
          "(line.thin); tips of corners that are less long than the limit is wide",
      .explain =
          "Film that weeds itself keeps its coat where toner lies and tears it away everywhere else. Specks, and long hairs and necks, go with "
          "what is torn away; serifs and other short hairs are held by what they hang on, and specks under a quarter of a point are seen by "
          "nobody. The page is drawn as the press will draw it, at its printer-resolution (600 pixels to the inch where that is no "
          "number) and at the size that it will have on the sheet, every pixel wholly ink or wholly clear. What is narrower than the limit by less "
          "than one such pixel may pass; a line thinner than one is left to line.thin. All that leaves any tint counts as ink. This drawing takes up "
          "to a second for a large sheet, five times what the rest takes: check does it for files of at most 20 pages, and for longer ones, "
          "as lay and watch do for any, only where the check is named, with --only ink.island or in a profile.",
      .needs_marks = true,
      .page = ink_island_findings,
      .needs_weed = true};
}

}  // namespace layright
