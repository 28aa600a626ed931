#include "watch/locked_ledger.h"

#include "sheet/ledger_address.h"

namespace layright {

Result<std::unique_ptr<LockedLedger>> lock_ledger(std::filesystem::path const& path) {
  std::optional<LedgerLock> lock;
  std::optional<LedgerSeal> seal;
  bool const file = !is_server_address(path.native());
  if (file) {
    auto locked = LedgerLock::take(path);
    if (!locked) return locked.error();
    lock = std::move(*locked);
  }
  auto ledger = Ledger::open(path, true);
  if (!ledger) return ledger.error();
  if (file) {
    auto sealed = LedgerSeal::set(*ledger);
    if (!sealed) return sealed.error();
    seal = std::move(*sealed);
  }
  return std::make_unique<LockedLedger>(LockedLedger{std::move(lock), std::move(seal), std::move(*ledger), 0});
}

}  // namespace layright
