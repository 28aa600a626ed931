// One watcher a folder, whatever its ledger, or several that share one: a lock on the folder itself, that the kernel drops when its process ends.
#pragma once
#include <filesystem>
#include <map>
#include <utility>

#include "base/result.h"
#include "base/unique_fd.h"

namespace layright {

class FolderLocks {
 public:
  /// `shared`: with other desks of the same ledger. Nothing is done where this process has it already, or it is not there yet. Errors: try_again (75), and who has it. File systems that cannot
  /// lock a folder are passed over.
  Outcome take(std::filesystem::path const& folder, bool shared = false);

 private:
  std::map<std::pair<unsigned long long, unsigned long long>, UniqueFd> held_;  // by device and number
};

}  // namespace layright
