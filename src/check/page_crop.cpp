#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_crop_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks || !view.marks->hidden_by_crop) return {};
  Finding f{.check = "page.crop", .level = Level::note};
  f.message =
      "the crop box hides marks of the page: they do not print and do not count; if they should, open the file, take the crop "
      "away and save it";
  f.where = view.page.seen.rect();
  return {f};
}

}  // namespace

CheckInfo page_crop() {
  return {.id = "page.crop",
          .levels = "note",
          .title = "the crop box hides marks of the page",
          .measures = "marks that lie wholly outside what is seen, but inside the media box",
          .limit = "none",
          .source = "ISO 32000-1, 14.11.2",
          .does_not_cover = "marks that are partly in and partly out (ink.cut); marks outside the media box, which nobody ever sees",
          .explain =
              "A crop box cuts down what is shown without taking anything out. Often that is meant: printer's marks, a color bar, the rest "
              "of a gang sheet. Sometimes a piece of the art was cut off by accident, and it is still there. layright goes by what is seen, "
              "and says that there is more.",
          .needs_marks = true,
          .page = page_crop_findings};
}

}  // namespace layright
