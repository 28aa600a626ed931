#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_boxes_findings(PageView const& view) {
  std::vector<Finding> findings;
  for (BoxFault const& fault : view.page.box_faults) {
    Finding f{.check = "page.boxes", .level = fault.usable ? Level::note : Level::hold};
    f.message = "the page's " + fault.box + " " + fault.what;
    if (!fault.usable)
      f.message += "; no page is left that could be looked at: ask for the file again, or save it again from the program that made it";
    f.measured = {{"box", fault.box}};
    findings.push_back(std::move(f));
  }
  return findings;
}

}  // namespace

CheckInfo page_boxes() {
  return {.id = "page.boxes",
          .levels = "note; hold where no usable page is left",
          .title = "a box of the page is missing, malformed, absurd or beyond the media box",
          .measures = "the page's boxes and UserUnit, as the file writes them",
          .limit = "four finite numbers that span an area, 3 to 14,400 units a side, inside the media box",
          .source = "ISO 32000-1, 7.7.3.3, 7.9.5, 14.11.2 and Annex C.2",
          .does_not_cover = "boxes that are sound but of the wrong size (page.size); Rotate (page.rotate)",
          .explain =
              "The boxes say how large the page is and what is seen of it. A box may be given by any two opposite corners, and most may be "
              "left out; that is no fault. But a box that has no area, is not four numbers, lies outside the media box or is larger than "
              "the standard allows means that programs disagree about what the page is. Where there is a usual way out, layright takes it and "
              "tells; where nothing is left to look at, the page is held.",
          .page = page_boxes_findings};
}

}  // namespace layright
