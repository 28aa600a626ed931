#include "write/left_temporaries.h"

#include <system_error>
#include <vector>

#include "write/move_file.h"
#include "write/output_file.h"

namespace layright {
namespace {

bool is_older(std::filesystem::path const& path, std::chrono::seconds age) {
  if (age.count() == 0) return true;
  std::error_code error;
  auto const written = std::filesystem::last_write_time(path, error);
  return !error && written < std::filesystem::file_time_type::clock::now() - age;
}

}  // namespace

Outcome remove_left_temporaries(std::filesystem::path const& folder, std::chrono::seconds age) {
  std::vector<std::filesystem::path> left;
  std::error_code error;
  for (std::filesystem::directory_iterator it(folder, error), end; !error && it != end; it.increment(error))
    if (is_temporary_output(it->path().filename().native()) && is_older(it->path(), age)) left.push_back(it->path());
  for (auto const& path : left)
    if (auto const gone = remove_file(path); !gone) return gone;
  return done();
}

}  // namespace layright
