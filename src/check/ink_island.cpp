// Decides: whether pieces of ink are large enough to hold on the film when it is weeded.
// Inputs and units: the width (of the largest disc that fits) and area of each piece of ink that hangs together, and of its thin parts, in
// points and square points as printed, on a drawing at the press's resolution
// Source: common practice, no published source
// Does not cover: dots of tints, which the press makes; lines thinner than a pixel of the press (line.thin); tips of corners that are less
// long than the limit is wide
// Findings: ink.island: note.
#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> run(PageView const& view) {
  if (!view.weed) return {};
  return small_pieces({"ink.island", view.weed->ink, "piece of ink is", "pieces of ink are",
                       "pieces so small may be torn away with the film's coat or not hold on the goods; draw them larger or take them out"}, view);
}

}  // namespace

CheckInfo ink_island() {
  return {.id = "ink.island",
          .levels = "note",
          .title = "a piece of ink is too small to hold when the film is weeded",
          .measures = "the width (of the largest disc that fits) and area of each piece of ink that hangs together, and of its thin parts, in "
                      "points and square points as printed, on a drawing at the press's resolution",
          .limit = "at least 0.5 pt wide and as large as a square of 1.4 pt (weed-width and weed-square, of the limits)",
          .source = "common practice, no published source",
          .explain =
              "Film that weeds itself keeps its coat where toner lies and tears it away everywhere else. Specks, hairs and thin necks go with "
              "what is torn away. The page is drawn as the press will draw it, at its printer-resolution (600 pixels to the inch where that "
              "is no number) and at the size that it will have on the sheet, every pixel wholly ink or wholly clear. What is narrower than "
              "the limit by less than one such pixel may pass; a line thinner than one is left to line.thin. All that leaves any tint counts as ink. "
              "This drawing takes up to a second or two for a large sheet, so the check runs only where it is named: with --only ink.island, or in a profile.",
          .needs_marks = true,
          .page = run,
          .needs_weed = true};
}

}  // namespace layright
