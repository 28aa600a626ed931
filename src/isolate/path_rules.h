// Landlock: which paths a process may still reach once it has closed itself in.
#pragma once
#include <cstdint>

#include "base/unique_fd.h"

namespace layright {

/// Rights over a path. What a kernel does not know of them is left out.
inline constexpr std::uint64_t kPathRead = 1, kPathExecute = 2, kPathWrite = 4, kPathWriteDevice = 8;

/// Handles every kind of access that this kernel knows, and allows what is named; ports and processes outside are out of reach as well where
/// it knows how.
class PathRules {
 public:
  PathRules();
  /// A path that is not there is passed over.
  void allow(char const* path, std::uint64_t rights);
  /// Closes for good; false where the kernel has no such rules.
  bool close_in();

 private:
  std::uint64_t handled_ = 0;
  UniqueFd rules_;
};

}  // namespace layright
