#include <algorithm>

#include "check/common.h"
#include "check/rows.h"
#include "check/trouble.h"

namespace layright {
namespace {

char const* const kAskAgain = "; ask for the file again, or save it again from the program that made it";

std::vector<Finding> file_damaged_page_findings(PageView const& view) {
  Page const& page = view.page;
  bool const boxes_report = std::ranges::any_of(page.box_faults, [](BoxFault const& f) { return !f.usable; });
  if (!page.usable && !boxes_report) {
    std::string const why = page.trouble.empty() ? "its description in the file is damaged" : page.trouble;
    return {damaged_finding("the page cannot be read: " + why + kAskAgain)};
  }
  if (!view.marks || view.marks->whole || view.marks->out_of_time) return {};
  std::string const what = view.marks->trouble.empty() ? "a part of what the page paints is damaged" : view.marks->trouble;
  return {damaged_finding("the page was not wholly read, so something may be missing from it: " + what + kAskAgain)};
}

std::vector<Finding> file_damaged_file_findings(FileView const& view) {
  std::vector<Finding> findings;
  for (std::string const& loss : view.losses) findings.push_back(damaged_finding(loss));
  bool const lost = view.document.lost_something();  // before repairs(): looking for losses may find more to tell
  auto const repairs = view.document.repairs();
  if (lost) {
    std::string const what = repairs.empty() ? "a part of it is missing" : joined(repairs);
    findings.push_back(damaged_finding("the file was damaged and something of it is lost: " + what + kAskAgain));
  } else if (!repairs.empty()) {
    Finding f{.check = "file.damaged", .level = Level::note};
    f.message = "the file was damaged and could be repaired whole: " + joined(repairs);
    f.measured = {{"repairs_count", static_cast<double>(repairs.size())}};
    f.wanted = {{"repairs_count", 0.0}};
    findings.push_back(std::move(f));
  }
  return findings;
}

}  // namespace

Finding damaged_finding(std::string const& what) { return {.check = "file.damaged", .level = Level::hold, .message = what}; }

Finding cannot_open(OpenError const& trouble) {
  using Kind = OpenError::Kind;
  if (trouble.kind == Kind::password || trouble.kind == Kind::certificate) return password_finding(trouble);
  if (trouble.kind == Kind::limit) return {.check = "file.limit", .level = Level::hold, .message = "the file cannot be opened: " + trouble.message};
  return damaged_finding("the file cannot be opened: " + trouble.message);
}

CheckInfo file_damaged() {
  return {.id = "file.damaged",
          .levels = "note where it was repaired whole; hold where anything was lost",
          .title = "the file is damaged",
          .measures = "what had to be repaired, and what could not be",
          .limit = "nothing lost",
          .source = "ISO 32000-1, 7.5 and 7.8.2",
          .does_not_cover = "locked files (file.password); running out of time (file.limit); odd boxes (page.boxes)",
          .explain =
              "Files are cut short by a broken transfer, or written badly by the program that made them. Much of that can be put right "
              "without any loss, such as a wrong table of where everything lies; this is only reported. Where a page, a stream or an object is gone, "
              "or a page's content ends in the middle, the sheet would lack something that nobody sees at the desk: the file is held. It is "
              "also held where it cannot be opened at all, is empty or is no PDF. The best way out is the file once more from whoever sent it.",
          .needs_marks = true,
          .page = file_damaged_page_findings,
          .file = file_damaged_file_findings};
}

}  // namespace layright
