// Notices that a ledger was deleted, replaced or written over under a watcher that runs: what SQLite still has open would be gone with it.
#pragma once
#include <filesystem>
#include <optional>
#include <string>

#include "base/unique_fd.h"
#include "watch/ledger.h"

namespace layright {

/// Must outlive the ledger: closing its files drops what SQLite has locked.
class LedgerSeal {
 public:
  /// Writes a mark of this watcher into the ledger, and keeps the file open to look at it. Errors as Ledger::change, io.
  static Result<LedgerSeal> set(Ledger& ledger);

  /// What has become of the ledger's file; nothing as long as it is as it must be. Costs a few calls.
  std::optional<std::string> broken();

 private:
  LedgerSeal() = default;
  bool find_mark();

  std::filesystem::path path_;
  std::string mark_;
  UniqueFd file_, log_;
  long long place_ = -1;  // of the mark in the file; -1: not known
  long long size_ = 0;
  std::string header_;  // of the file, as far as nothing changes it
};

}  // namespace layright
