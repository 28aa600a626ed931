#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> view_scale_findings(FileView const& view) {
  if (view.document.asks_for_no_scaling()) return {};
  Finding f{.check = "view.scale", .level = Level::note};
  f.message =
      "the file leaves it to the viewer to scale it when it is printed, and many shrink pages to the printable area; `lay` "
      "writes that it must not be scaled";
  f.measured = {{"print_scaling", "AppDefault"}};
  f.wanted = {{"print_scaling", "None"}};
  return {f};
}

}  // namespace

CheckInfo view_scale() {
  return {.id = "view.scale",
          .levels = "note",
          .title = "viewer preferences leave scaling to the viewer",
          .measures = "the viewer preference PrintScaling",
          .limit = "None",
          .source = "ISO 32000-1, Table 150",
          .does_not_cover = "what the printer's own settings do (setup)",
          .explain =
              "A file may ask viewers not to scale it when it is printed. Unless it does, the print dialog opens with whatever was used last, often "
              "\"fit to page\", and the art comes out a few percent too small. Nearly all files that come in leave it open, so this is only "
              "reported. `lay` sets it, and `send` tells the printer as well.",
          .file = view_scale_findings};
}

}  // namespace layright
