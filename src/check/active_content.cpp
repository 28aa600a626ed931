#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

Finding note(std::string message) {
  return {
      .check = "active.content", .level = Level::note, .message = std::move(message) + "; layright does not run or open it, and `lay` leaves it out"};
}

std::vector<Finding> active_content_page_findings(PageView const& view) {
  if (!view.page.active_content) return {};
  return {note("the page or an annotation on it has an action that runs, opens or sends something")};
}

std::vector<Finding> active_content_file_findings(FileView const& view) {
  auto const found = view.document.active_content();
  if (found.empty()) return {};
  return {note("the file holds " + joined(found))};
}

}  // namespace

CheckInfo active_content() {
  return {.id = "active.content",
          .levels = "note",
          .title = "scripts, launch actions or attachments",
          .measures = "what a viewer could run, open or send",
          .limit = "none",
          .source = "ISO 32000-1, 12.6.4 and 7.11.4",
          .does_not_cover = "what a script would do: layright never runs any",
          .explain =
              "A PDF can carry scripts, commands to start programs, links that send data, and other files. None of it belongs to art that is to be "
              "printed. layright never follows any of it and what `lay` writes has none of it; but be careful with the customer's own file in "
              "a viewer. Scripts may also fill in or change what a form shows: what layright lays is what the file shows without them.",
          .page = active_content_page_findings,
          .file = active_content_file_findings};
}

}  // namespace layright
