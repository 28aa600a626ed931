// Writes of one transaction of the ledger.
#pragma once
#include <chrono>
#include <string>

#include "watch/database.h"
#include "watch/ledger.h"

namespace layright {

class LedgerWrites : public LedgerChange {
 public:
  /// `desk`: which has what is added, for `lease`; empty where nobody shares the ledger. All throw DatabaseError: lease_lost where another desk
  /// has the entry.
  LedgerWrites(Database& database, std::string desk, std::chrono::milliseconds lease);

  void add_all(std::vector<LedgerEntry*> const& entries) override;
  void update_all(std::vector<LedgerEntry const*> const& entries) override;
  void remove(LedgerEntry const& entry) override;
  void add_all(std::vector<LedgerOutput*> const& outputs) override;
  void update_all(std::vector<LedgerOutput const*> const& outputs) override;
  void remove(LedgerOutput const& output) override;
  void report_all(std::vector<LedgerEvent> const& events) override;
  void choose_alone(std::vector<std::string> const& what) override;
  void spoil(long long entry, long long at, std::string const& who, int sheets, std::string const& why) override;

 private:
  Database& database_;
  std::string desk_, until_;
};

}  // namespace layright
