#include "command/look_at.h"

#include "command/file_run.h"

namespace layright {

LookedAt look_at(std::filesystem::path const& path, std::shared_ptr<InspectOptions const> const& options) {
  LookedAt known;
  known.file.name = path.filename().native();
  std::error_code ignored;
  auto const bytes = std::filesystem::file_size(path, ignored);
  known.file.bytes = ignored ? 0 : static_cast<long long>(bytes);
  auto const report = report_into(known);
  auto const make = [&](std::filesystem::path const& file) { return std::make_shared<CheckJob>(file, options); };
  known.status = run_files({path}, make, check_status, *report, 1);
  return known;
}

}  // namespace layright
