#include "watch/locked_ledger.h"

namespace layright {

Result<std::unique_ptr<LockedLedger>> lock_ledger(std::filesystem::path const& path) {
  auto lock = LedgerLock::take(path);
  if (!lock) return lock.error();
  auto ledger = Ledger::open(path, true);
  if (!ledger) return ledger.error();
  auto seal = LedgerSeal::set(*ledger);
  if (!seal) return seal.error();
  return std::make_unique<LockedLedger>(LockedLedger{std::move(*lock), std::move(*seal), std::move(*ledger), 0});
}

}  // namespace layright
