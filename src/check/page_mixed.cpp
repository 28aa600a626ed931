#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_mixed_findings(FileView const& view) {
  if (view.sizes.size() < 2) return {};
  std::vector<std::string> sizes;
  for (SeenSize const& s : view.sizes) sizes.push_back(size_text(s.width, s.height, view.unit));
  Finding f{.check = "page.mixed", .level = Level::note};
  f.message = "the pages differ in size: " + joined(sizes) +
              "; `lay` puts all of them on the same sheet, so look whether they belong "
              "to one job (--pages takes some of them)";
  f.measured = {{"sizes_count", static_cast<double>(view.sizes.size())}};
  f.wanted = {{"sizes_count", 1.0}};
  return {f};
}

}  // namespace

CheckInfo page_mixed() {
  return {.id = "page.mixed",
          .levels = "note",
          .title = "pages of one file differ in size",
          .measures = "the different sizes of the pages as seen, in points",
          .limit = "one size within 0.5 pt (size tolerance of the limits)",
          .source = "ISO 32000-1, 7.7.3.3; one sheet for one job is common practice, no published source",
          .does_not_cover = "which of the sizes is the sheet's (page.size)",
          .explain =
              "A file whose pages differ in size is often several things in one: art and a proof of it, or art and a letter. Each page is "
              "checked and laid by itself, on the same sheet. If only some of the pages are the job, name them with --pages.",
          .file = page_mixed_findings};
}

}  // namespace layright
