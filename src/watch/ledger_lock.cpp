#include "watch/ledger_lock.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <string>

namespace layright {
namespace {

struct flock whole_file() {
  struct flock wanted {};
  wanted.l_type = F_WRLCK;
  wanted.l_whence = SEEK_SET;
  return wanted;
}

std::string lock_file(std::filesystem::path const& ledger) { return ledger.native() + ".lock"; }

/// The holder's process number where another process holds it.
int holder(int descriptor) {
  auto asked = whole_file();
  if (fcntl(descriptor, F_GETLK, &asked) != 0 || asked.l_type == F_UNLCK) return 0;
  return asked.l_pid;
}

}  // namespace

Result<LedgerLock> LedgerLock::take(std::filesystem::path const& ledger) {
  auto const path = lock_file(ledger);
  int const descriptor = open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0666);
  if (descriptor < 0)
    return Error{errno == ENOSPC || errno == EIO ? ErrorKind::io : ErrorKind::cannot_create, path + ": cannot be made: " + std::strerror(errno)};
  LedgerLock lock(descriptor);
  auto wanted = whole_file();
  if (fcntl(descriptor, F_SETLK, &wanted) == 0) return lock;
  if (errno != EACCES && errno != EAGAIN) return Error{ErrorKind::io, path + ": cannot be locked: " + std::strerror(errno)};
  int const process = holder(descriptor);
  return Error{ErrorKind::try_again, ledger.string() + ": another watcher has this ledger" +
                                         (process > 0 ? " (process " + std::to_string(process) + ")" : "") +
                                         "; stop that one first, or leave the work to it"};
}

LedgerLock::~LedgerLock() {
  if (descriptor_ >= 0) close(descriptor_);
}

int lock_holder(std::filesystem::path const& ledger) {
  int const descriptor = open(lock_file(ledger).c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW);
  if (descriptor < 0) return 0;
  int const process = holder(descriptor);
  close(descriptor);
  return process;
}

}  // namespace layright
