// Takes a ledger over into another one: from a file to a server, or back.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct LedgerCopy {
  struct Table {
    std::string name;
    long long rows = 0;
    std::string digest;  // SHA-256 over all values of all rows, the same in both
  };
  std::vector<Table> tables;
  long long mended = 0;  // texts with bytes that are no UTF-8, which are U+FFFD in the copy
};

/// Copies everything, reads both back and compares them, all in one transaction: what is not proved the same is not kept. Errors: try_again where a
/// watcher works with either; cannot_create where `to` has jobs already; data where the copy differs; those of Ledger::open().
Result<LedgerCopy> copy_ledger(std::filesystem::path const& from, std::filesystem::path const& to);

}  // namespace layright
