// Shuts a process in before it reads a customer's file: memory, no new privileges, no sockets, no programs, no files.
#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "base/unique_fd.h"

namespace layright {

struct SandboxLimits {
  std::size_t memory_bytes = std::size_t{512} << 20;  // address space beyond what is mapped already
  std::size_t output_bytes = std::size_t{16} << 30;   // largest file that may be written through a descriptor it holds
};

/// What of the sandbox this kernel gives. All else holds where one is missing.
struct SandboxParts {
  bool no_new_privileges = false;
  bool lesser_user = false;         // root's rights are given up; true where there were none
  bool system_call_filter = false;  // seccomp
  bool file_rules = false;          // Landlock
  bool memory_limit = false;        // off in sanitizer builds, whose shadow memory does not fit under it
};

/// Closes the sandbox for good in the calling process; root's rights are given up first. Descriptors that are open stay usable; whatever a library loads late must have
/// been loaded before. Never fails: says what the kernel refused.
SandboxParts enter_sandbox(SandboxLimits const& limits);

/// Tries it in a child of its own, beside all else.
class SandboxProbe {
 public:
  SandboxProbe();
  ~SandboxProbe() { parts(); }
  SandboxProbe(SandboxProbe const&) = delete;
  SandboxProbe& operator=(SandboxProbe const&) = delete;
  SandboxParts const& parts();  // waits for it

 private:
  SandboxParts parts_;
  UniqueFd from_;
  int child_ = -1;
};
SandboxParts probe_sandbox();
/// The parts without which a customer's file could reach more than it may, that are missing: in words, empty where none is. Not told of what
/// a sanitizer build leaves out.
std::vector<std::string> sandbox_gaps(SandboxParts const& parts);

/// From now on no child reads a customer's file where the sandbox does not close whole: it is not started.
void require_whole_sandbox();
bool whole_sandbox_required();

/// One plain line a part.
std::vector<std::string> describe(SandboxParts const& parts);

}  // namespace layright
