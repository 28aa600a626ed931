// A PDF shows the pixels as they lie: nothing there knows the tag.
#include "check/common.h"
#include "check/rows.h"
#include "marks/exif_orientation.h"

namespace layright {
namespace {

std::vector<Finding> image_orientation_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks) return {};
  Finding f{.check = "image.orientation", .level = Level::note};
  long count = 0;
  int first = 1;
  for (ImageUse const& image : view.marks->images) {
    if (!mirrors(image.orientation)) continue;
    if (count++ == 0) first = image.orientation;
    f.where = f.where ? united(*f.where, image.where) : image.where;
  }
  if (count == 0) return {};
  f.message = counted(count, "photograph carries", "photographs carry") + " a tag (Exif orientation " + std::to_string(first) +
              ") that asks to show " + (count == 1 ? "it" : "them") + " reversed, which PDF readers and presses pass over: here " +
              (count == 1 ? "it prints" : "they print") +
              " as the pixels lie, the other way round than in the program that made the photograph; look which way the page must read, and if it "
              "comes out reversed have the photograph saved without the tag and placed again";
  f.measured = {{"orientation", static_cast<double>(first)}, {"count", static_cast<double>(count)}};
  f.wanted = {{"orientation", 1.0}};
  return {f};
}

}  // namespace

CheckInfo image_orientation() {
  return {.id = "image.orientation",
          .levels = "note",
          .title = "a photograph carries a tag that asks to show it reversed",
          .measures = "the orientation tag that cameras and photograph programs write into a JPEG picture",
          .limit = "none that mirrors (2, 4, 5 and 7)",
          .source = "CIPA DC-008-2019 (Exif 2.32), 4.6.5, tag 274; ISO 32000-1, 7.4.8",
          .does_not_cover = "tags that only turn the picture (3, 6 and 8): a turn reverses nothing",
          .explain =
              "A photograph can carry a tag that says how to lay it before it is shown: turned, or as in a mirror. Cameras that face their owner "
              "and programs that mirror without touching the pixels write it. Programs that show photographs obey it, PDF readers and presses do "
              "not, so the page reads the other way round than the customer saw it. layright goes by what prints.",
          .needs_marks = true,
          .page = image_orientation_findings};
}

}  // namespace layright
