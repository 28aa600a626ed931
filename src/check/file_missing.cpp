// A name that leads nowhere must not look like "ready".
#include "check/rows.h"
#include "check/trouble.h"

namespace layright {

Finding missing_file_finding(std::string const& why) { return {.check = "file.missing", .level = Level::hold, .message = why}; }

CheckInfo file_missing() {
  return {.id = "file.missing",
          .levels = "hold",
          .title = "the file cannot be read from the disk",
          .measures = "whether there is such a file, a regular one, that may be read",
          .limit = "none",
          .source = "our own",
          .does_not_cover = "files that can be read but are none that is taken (file.damaged)",
          .explain =
              "There is no file of that name, or it is a folder, a device or a pipe, or this user may not read it. A file that somebody "
              "names and that cannot be looked at is never passed over in silence: the run says so, and its exit status is 66."};
}

}  // namespace layright
