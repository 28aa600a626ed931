#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> file_permission_findings(FileView const& view) {
  if (view.document.printing_allowed()) return {};
  Finding f{.check = "file.permission", .level = Level::hold};
  f.message =
      "whoever made the file forbids printing it: ask for a file that may be printed, or for its owner password and give it "
      "with --password-file";
  f.measured = {{"printing_allowed", false}};
  f.wanted = {{"printing_allowed", true}};
  return {f};
}

}  // namespace

CheckInfo file_permission() {
  return {.id = "file.permission",
          .levels = "hold",
          .title = "printing is forbidden",
          .measures = "the permission to print of an encrypted file",
          .limit = "given",
          .source = "ISO 32000-1, Table 22, bit 3",
          .does_not_cover = "files that do not open (file.password); the other permissions, which printing does not need",
          .explain =
              "An encrypted file can be opened and yet say that it must not be printed. layright respects that: it is the maker's word about "
              "his work. `lay` writes nothing from such a file. Whoever has the owner password may print it (--password-file); otherwise ask "
              "for a file without the restriction.",
          .file = file_permission_findings};
}

}  // namespace layright
