#include "watch/ledger_lock.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include <string>
#include "sheet/ledger_address.h"
#include "watch/ledger.h"

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
  UniqueFd descriptor(open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0666));
  if (!descriptor)
    return Error{errno == ENOSPC || errno == EIO ? ErrorKind::io : ErrorKind::cannot_create, path + ": cannot be made: " + std::strerror(errno)};
  auto wanted = whole_file();
  if (fcntl(descriptor.get(), F_SETLK, &wanted) == 0) return LedgerLock(std::move(descriptor));
  if (errno != EACCES && errno != EAGAIN) return Error{ErrorKind::io, path + ": cannot be locked: " + std::strerror(errno)};
  int const process = holder(descriptor.get());
  return Error{ErrorKind::try_again, ledger.string() + ": another watcher has this ledger" +
                                         (process > 0 ? " (process " + std::to_string(process) + ")" : "") +
                                         "; stop that one first, or leave the work to it"};
}

int lock_holder(std::filesystem::path const& ledger) {
  if (is_server_address(ledger.native())) {
    auto const opened = Ledger::open(ledger, false);
    auto const desks = opened ? opened->desks() : Result<std::vector<std::string>>(std::vector<std::string>());
    return desks && !desks->empty() ? kOnAnyMachine : 0;
  }
  UniqueFd const file(open(lock_file(ledger).c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW));
  return file ? holder(file.get()) : 0;
}

}  // namespace layright
