#include "isolate/scratch_folder.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <system_error>
#include <utility>
#include <vector>

#include "isolate/lesser_user.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr char const* kName = "layright-scratch-";

fs::path temporary_folder() {
  std::error_code error;
  auto const folder = fs::temp_directory_path(error);
  return error ? fs::path("/tmp") : folder;
}

/// Opened and locked; none where somebody works in it, or it is none of ours.
UniqueFd locked(fs::path const& path) {
  UniqueFd folder(open(path.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC));
  if (!folder) return {};
  struct stat about {};
  bool const ours = fstat(folder.get(), &about) == 0 && (about.st_uid == geteuid() || (is_root() && about.st_uid == kNobody));
  return ours && flock(folder.get(), LOCK_EX | LOCK_NB) == 0 ? std::move(folder) : UniqueFd();
}

}  // namespace

ScratchFolder::ScratchFolder() {
  // Whoever tidies up between the making and the locking takes it away: then another one.
  for (int attempt = 0; attempt < 3 && !lock_; ++attempt) {
    path_ = (temporary_folder() / (kName + std::string(6, 'X'))).native();  // mkdtemp replaces the six letters
    if (!mkdtemp(path_.data())) return;
    lock_ = locked(path_);
  }
  if (lock_ && is_root() && fchown(lock_.get(), kNobody, kNobody) != 0) rmdir(path_.c_str());
}

ScratchFolder::~ScratchFolder() {
  if (!lock_) return;
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::size_t ScratchFolder::bytes() const {
  std::size_t sum = 0;
  std::error_code error;
  for (fs::recursive_directory_iterator it(path_, fs::directory_options::skip_permission_denied, error), end; !error && it != end;
       it.increment(error)) {
    struct stat about {};
    if (lstat(it->path().c_str(), &about) == 0) sum += static_cast<std::size_t>(about.st_blocks) * 512;
  }
  return sum;
}

void remove_left_scratch() {
  auto const folder = temporary_folder();
  DIR* const listing = opendir(folder.c_str());
  if (!listing) return;
  std::vector<fs::path> left;
  while (dirent const* const entry = readdir(listing))
    if (std::string_view(entry->d_name).starts_with(kName)) left.push_back(folder / entry->d_name);
  closedir(listing);
  for (auto const& path : left) {
    auto const lock = locked(path);
    if (!lock) continue;
    std::error_code ignored;
    fs::remove_all(path, ignored);
  }
}

}  // namespace layright
