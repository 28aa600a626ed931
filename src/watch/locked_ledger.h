// A ledger that is this watcher's alone.
#pragma once
#include <filesystem>
#include <memory>

#include "watch/ledger.h"
#include "watch/ledger_lock.h"
#include "watch/ledger_seal.h"

namespace layright {

/// A ledger with its lock, and the seal that outlives it.
struct LockedLedger {
  LedgerLock lock;
  LedgerSeal seal;
  Ledger ledger;
  long long version = 0;  // of its data, when last looked at
};

/// Errors: try_again where another watcher has it, and those of Ledger::open().
Result<std::unique_ptr<LockedLedger>> lock_ledger(std::filesystem::path const& path);

}  // namespace layright
