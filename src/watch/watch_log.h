// What a watch has to say while it runs: a line for each thing, as text or as JSON, on standard error.
#pragma once
#include <string>

#include "base/status_line.h"
#include "watch/ledger.h"

namespace layright {

enum class LogLevel { info, warning, error };

class WatchLog {
 public:
  /// `line`, where there is one, is wiped before anything is said.
  explicit WatchLog(bool json, StatusLine* line = nullptr) : json_(json), line_(line) {}
  /// Something about an arrival; `what` is one word: ready, held, arrived ….
  void entry(LogLevel level, std::string const& what, LedgerEntry const& entry, std::string const& message) const;
  /// Something else, about an intake and a name in it, each of which may be empty.
  void report(LogLevel level, std::string const& intake, std::string const& name, std::string const& message) const;

 private:
  void put(LogLevel level, std::string const& what, std::string const& intake, long long job, std::string const& name,
           std::string const& message) const;
  bool json_;
  StatusLine* line_;
};

}  // namespace layright
