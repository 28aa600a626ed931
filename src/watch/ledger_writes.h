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

  void add(LedgerEntry& entry) override;
  void update(LedgerEntry const& entry) override;
  void remove(LedgerEntry const& entry) override;
  void add(LedgerOutput& output) override;
  void update(LedgerOutput const& output) override;
  void remove(LedgerOutput const& output) override;
  void report(LedgerEvent const& event) override;
  void choose_alone(std::string const& intake) override;
  void spoil(long long entry, long long at, std::string const& who, int sheets, std::string const& why) override;

 private:
  Database& database_;
  std::string desk_, until_;
};

}  // namespace layright
