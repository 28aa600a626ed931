#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> ink_gap_findings(PageView const& view) {
  if (!view.weed) return {};
  return small_pieces({"ink.gap", view.weed->gaps, "gap or hole in the ink is", "gaps and holes in the ink are",
                       "this is art of dots, such as a half-tone, a texture or a grainy picture; most of what is clear between them may stay closed",
                       "gaps so fine may stay closed when the film is weeded, or fill with toner; open them or fill them"},
                      view);
}

}  // namespace

CheckInfo ink_gap() {
  return {
      .id = "ink.gap",
      .levels = "note",
      .title = "a gap or hole in the ink is too small to open when the film is weeded",
      .measures =
          "the width (of the largest disc that fits) and area of each hole, and the width of gaps, in points and square points as "
          "printed, on a drawing at the press's resolution",
      .limit =
          "at least 0.5 pt wide and, of holes, as large as a square of 0.7 pt; a slit that opens into something wider may be 6 pt long (weed-width, "
          "weed-square and weed-length, of the limits)",
      .source = "common practice, no published source",
      .does_not_cover = "the clear dots of dark tints, which the press makes; notches less deep than the limit is wide",
      .explain =
          "Where no toner lies the film's coat must tear away. In a long slit, or a hole that is too small, it is held from all sides and stays, "
          "as a shine or a filled counter on the goods; short gaps, such as those between letters, tear with what is around them. The page is drawn "
          "as the press will draw it, at its printer-resolution (600 pixels to the inch where that is no number) and at the size that it will "
          "have on the sheet, every pixel wholly ink or wholly clear. What is narrower than the limit by less than one such pixel may pass. This "
          "drawing "
          "takes up to a second for a large sheet, five times what the rest takes: check does it for files of at most 20 pages, and for "
          "longer ones, as lay and watch do for any, only where the check is named, with --only ink.gap or in a profile.",
      .needs_marks = true,
      .page = ink_gap_findings,
      .needs_weed = true};
}

}  // namespace layright
