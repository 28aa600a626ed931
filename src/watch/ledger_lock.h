// One watcher a ledger: a lock that the kernel drops when its process ends, however it ends, and that children do not inherit.
#pragma once
#include <filesystem>
#include <utility>

#include "base/result.h"
#include "base/unique_fd.h"

namespace layright {

class LedgerLock {
 public:
  /// Locks PATH.lock, which is made where it is missing and stays. Errors: try_again (75) names the process that holds it; cannot_create, io.
  /// A process takes the lock of one ledger once only: closing a second descriptor of the file would drop it (POSIX record locks; they are
  /// the kind that fork does not pass on).
  static Result<LedgerLock> take(std::filesystem::path const& ledger);

 private:
  explicit LedgerLock(UniqueFd descriptor) : descriptor_(std::move(descriptor)) {}
  UniqueFd descriptor_;
};

inline constexpr int kOnAnyMachine = 1;  // not a number of a process here
/// The process that holds the lock of this ledger; 0 when nobody does. Of a ledger that is shared: kOnAnyMachine where a desk is at work.
int lock_holder(std::filesystem::path const& ledger);

}  // namespace layright
