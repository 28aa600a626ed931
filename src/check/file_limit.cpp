// Customer files are hostile until shown otherwise.
#include "check/common.h"
#include "check/rows.h"
#include "check/trouble.h"

namespace layright {
namespace {

std::vector<Finding> file_limit_findings(PageView const& view) {
  if (!view.marks || !view.marks->out_of_time) return {};
  return {limit_finding(RanOut::time, view.page.number, view.target.limits)};
}

}  // namespace

Finding limit_finding(RanOut what, int page, Limits const& limits) {
  Finding f{.check = "file.limit", .level = Level::hold};
  std::string const at = page > 0 ? "page " + std::to_string(page) : "the file";
  std::string const more = "; nobody knows what the rest of it shows. Allow more in layright.toml, or ask for a simpler file";
  switch (what) {
    case RanOut::time:
      f.message = at + " was not read in " + format_number(limits.seconds_a_page, 1) + " s" + more;
      f.wanted = {{"seconds_a_page", limits.seconds_a_page}};
      break;
    case RanOut::file_time:
      f.message = "the file was not read to its end in " + format_number(limits.seconds_a_file, 1) + " s (seconds-a-file)" +
                  (page > 0 ? ": the pages from " + std::to_string(page) + " on were not looked at" : std::string()) + more;
      f.wanted = {{"seconds_a_file", limits.seconds_a_file}};
      break;
    case RanOut::memory:
      f.message = at + " needs more than " + format_number(limits.memory_mb, 0) + " MB of memory to be read" + more;
      f.wanted = {{"memory_mb", limits.memory_mb}};
      break;
    case RanOut::size: f.message = at + " is larger than may be taken in" + more; break;
  }
  return f;
}

CheckInfo file_limit() {
  return {.id = "file.limit",
          .levels = "hold",
          .title = "time, memory or size ran out",
          .measures = "seconds of work a page and a file, megabytes of memory, size of the file",
          .limit = "6 s a page, 60 s a file and 512 MB (seconds-a-page, seconds-a-file and memory-mb, of the limits)",
          .source = "our own",
          .does_not_cover = "damage (file.damaged)",
          .explain =
              "A small file can ask for hours of work or more memory than there is, by accident or on purpose. layright stops such a page or "
              "file at a limit and goes on with the others. What was not read cannot be judged, so it is held. If the file is sound and only "
              "heavy, raise the limits in layright.toml.",
          .needs_marks = true,
          .page = file_limit_findings};
}

}  // namespace layright
