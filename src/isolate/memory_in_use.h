// How much memory processes have in use: a process with all that it has begun, and files that lie in memory only.
#pragma once
#include <sys/types.h>

#include <cstddef>
#include <map>
#include <span>
#include <vector>

namespace layright {

/// Whether the kernel keeps a list of what each process has begun (CONFIG_PROC_CHILDREN).
bool lists_children();

/// Who began whom.
class ProcessTree {
 public:
  ProcessTree() : ProcessTree(lists_children()) {}
  /// Without the kernel's lists, all processes of the machine are looked through, once, here.
  explicit ProcessTree(bool by_lists);
  /// Memory that a process and all that it has begun have for themselves alone, in bytes.
  std::size_t memory_of(pid_t root) const;

 private:
  std::vector<pid_t> begun_by(pid_t process) const;
  bool by_lists_;
  std::map<pid_t, std::vector<pid_t>> begun_by_;  // only without lists
};

/// Memory that one process has for itself alone.
std::size_t memory_of_process(pid_t process);

/// What open files take that lie in memory and on no disk (memfd_create).
std::size_t memory_of_files(std::span<int const> descriptors);

}  // namespace layright
