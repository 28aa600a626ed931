#include "watch/folder_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>
#include <sstream>
#include <string>
#include <utility>

namespace layright {
namespace {

/// The process that has locked this file (proc(5), /proc/locks); 0 where the system does not say.
int holder(ino_t number) {
  std::ifstream locks("/proc/locks");
  for (std::string line; std::getline(locks, line);) {
    std::istringstream words(line);
    std::string at, kind, manner, way, file;
    int process = 0;
    if (words >> at >> kind >> manner >> way >> process >> file && kind == "FLOCK" && file.ends_with(":" + std::to_string(number))) return process;
  }
  return 0;
}

}  // namespace

Outcome FolderLocks::take(std::filesystem::path const& folder, bool shared) {
  UniqueFd descriptor(open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  struct stat about {};
  if (!descriptor || fstat(descriptor.get(), &about) != 0 || held_.contains({about.st_dev, about.st_ino})) return done();
  if (flock(descriptor.get(), (shared ? LOCK_SH : LOCK_EX) | LOCK_NB) == 0)
    return held_[{about.st_dev, about.st_ino}] = std::move(descriptor), done();
  if (errno != EWOULDBLOCK) return done();
  int const process = holder(about.st_ino);
  return Error{ErrorKind::try_again, folder.string() + ": another watcher, with another ledger, works on this folder" +
                                         (process > 0 ? " (process " + std::to_string(process) + ")" : "") +
                                         "; stop that one first, or give this one folders of its own"};
}

}  // namespace layright
