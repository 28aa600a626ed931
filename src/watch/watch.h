// The watch: all intakes of a configuration at work, until there is no more to do or somebody ends it.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct WatchOptions {
  std::filesystem::path configuration;  // read again at SIGHUP
  std::vector<std::string> names;       // of intakes; empty: all
  bool once = false;                    // do what is there and end
  bool arrivals = true;                 // false: only what persons have decided is done
  bool json = false;                    // the log
  std::filesystem::path health;         // where to tell how it goes; empty: nowhere
};

/// What a watch came to.
struct WatchEnd {
  bool held = false;             // something waits for a person
  bool interrupted = false;      // a signal ended it
  std::optional<Error> trouble;  // what did not pass within a run that ends
};

/// Errors before anything is done: usage (no such intake), no_input, data, cannot_create, io, try_again (another watcher has a ledger).
Result<WatchEnd> watch(WatchOptions const& options);

}  // namespace layright
