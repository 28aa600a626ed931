#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_rotate_findings(PageView const& view) {
  Page const& page = view.page;
  if (page.clockwise == Turn::none) return {};
  Finding f{.check = "page.rotate", .level = Level::fix};
  f.wanted = {{"rotate_deg", 0.0}};
  if (page.clockwise) {
    f.message = "the page is turned by " + std::to_string(degrees(*page.clockwise)) +
                " degrees clockwise by a setting that some printers pass over (Rotate); `lay` writes it as it is seen, without";
    f.measured = {{"rotate_deg", static_cast<double>(degrees(*page.clockwise))}};
  } else {
    f.level = Level::hold;
    f.message = "the page's Rotate is " + page.rotate_as_written +
                ", which is no multiple of 90, and every reader makes something else of it: ask for the file again, or open it, turn "
                "the page as it must be and save it";
    f.measured = {{"rotate", page.rotate_as_written}};
  }
  return {f};
}

}  // namespace

CheckInfo page_rotate() {
  return {.id = "page.rotate",
          .levels = "fix; hold where it is no multiple of 90",
          .title = "the page carries a hidden rotation",
          .measures = "the page's Rotate, in degrees clockwise, modulo 360",
          .limit = "0",
          .source = "ISO 32000-1, Table 30 (Rotate)",
          .does_not_cover = "art that is drawn lying on its side (nobody can know); the page's size (page.size, page.feed)",
          .explain =
              "A page may say that it is to be shown turned by 90, 180 or 270 degrees. Viewers do that, but a step on the way to the press "
              "that works with the page's own coordinates may not, and the sheet comes out turned. `lay` writes the page as it is seen, with "
              "no rotation left. Whole turns (360, -360) are none. A value that is no multiple of 90 is against the standard; one reader "
              "ignores it, another takes the nearest quarter turn, so a person must decide.",
          .page = page_rotate_findings};
}

}  // namespace layright
