// A ledger that is this watcher's alone, or that it shares with other desks.
#pragma once
#include <filesystem>
#include <memory>
#include <optional>

#include "watch/ledger.h"
#include "watch/ledger_lock.h"
#include "watch/ledger_seal.h"

namespace layright {

/// A ledger, and for a file its lock, and the seal that outlives it.
struct LockedLedger {
  std::optional<LedgerLock> lock;
  std::optional<LedgerSeal> seal;
  Ledger ledger;
  long long version = 0;  // of its data, when last looked at
};

/// Errors: try_again where another watcher has it alone, and those of Ledger::open().
Result<std::unique_ptr<LockedLedger>> lock_ledger(std::filesystem::path const& path);

}  // namespace layright
