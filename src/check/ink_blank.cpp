#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> ink_blank_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks || view.marks->ink || !view.marks->whole) return {};
  Finding f{.check = "ink.blank", .level = Level::hold};
  bool const hidden = view.marks->hidden_by_crop;
  f.message = view.marks->count > 0 && !view.target.white_prints()
                  ? "nothing on the page leaves ink: all that it paints is white, or hidden under white; on a press that lays white say "
                    "--white prints, else leave the page out with --pages"
                  : std::string("nothing on the page leaves ink") + (hidden ? ": all its marks lie outside the crop box" : "") +
                        "; leave it out with --pages, or accept it with --accept ink.blank";
  f.where = view.page.seen.rect();
  return {f};
}

}  // namespace

CheckInfo ink_blank() {
  return {.id = "ink.blank",
          .levels = "hold",
          .title = "nothing leaves ink",
          .measures = "the extents of what leaves ink",
          .limit = "some",
          .source = "common practice, no published source",
          .does_not_cover = "pages that were not wholly read (file.damaged, file.limit): nobody knows what they leave",
          .explain =
              "A page that leaves no ink costs a sheet and prints nothing. Often it is a last page that a program added, or art whose layer "
              "is switched off for printing, or white art that is meant for a press which lays white. In that last case the target's press "
              "must say so (prints-white), or the command line (--white prints): then white is ink.",
          .needs_marks = true,
          .page = ink_blank_findings};
}

}  // namespace layright
