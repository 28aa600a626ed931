#include "isolate/path_rules.h"

#include <fcntl.h>
#include <linux/landlock.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cstddef>

namespace layright {
namespace {

// Debian 12's headers end with the second version of these rules; the numbers of later ones are the kernel's own (linux/landlock.h).
constexpr std::uint64_t kRefer = 1u << 13, kTruncate = 1u << 14, kDeviceControl = 1u << 15;
constexpr std::uint64_t kBindAndConnect = 3, kSocketsAndSignals = 3;

/// The kernel's structure of the sixth version; a version below reads the beginning of it.
struct Ruleset {
  std::uint64_t files = 0, network = 0, scopes = 0;
};
constexpr std::size_t size_for(int version) {
  return version >= 6 ? sizeof(Ruleset) : version >= 4 ? offsetof(Ruleset, scopes) : offsetof(Ruleset, network);
}

constexpr std::uint64_t kReading = LANDLOCK_ACCESS_FS_READ_FILE | LANDLOCK_ACCESS_FS_READ_DIR;
constexpr std::uint64_t kWriting = LANDLOCK_ACCESS_FS_WRITE_FILE | LANDLOCK_ACCESS_FS_REMOVE_FILE | LANDLOCK_ACCESS_FS_MAKE_REG |
                                   LANDLOCK_ACCESS_FS_REMOVE_DIR | LANDLOCK_ACCESS_FS_MAKE_DIR | kTruncate;
constexpr std::uint64_t kOfFirst = kReading | LANDLOCK_ACCESS_FS_EXECUTE | LANDLOCK_ACCESS_FS_WRITE_FILE | LANDLOCK_ACCESS_FS_REMOVE_FILE |
                                   LANDLOCK_ACCESS_FS_MAKE_REG | LANDLOCK_ACCESS_FS_REMOVE_DIR | LANDLOCK_ACCESS_FS_MAKE_DIR |
                                   LANDLOCK_ACCESS_FS_MAKE_CHAR | LANDLOCK_ACCESS_FS_MAKE_SOCK | LANDLOCK_ACCESS_FS_MAKE_FIFO |
                                   LANDLOCK_ACCESS_FS_MAKE_BLOCK | LANDLOCK_ACCESS_FS_MAKE_SYM;
constexpr std::uint64_t kOfFiles = LANDLOCK_ACCESS_FS_READ_FILE | LANDLOCK_ACCESS_FS_WRITE_FILE | LANDLOCK_ACCESS_FS_EXECUTE | kTruncate;

}  // namespace

PathRules::PathRules() {
  int const version = static_cast<int>(syscall(SYS_landlock_create_ruleset, nullptr, 0, LANDLOCK_CREATE_RULESET_VERSION));
  if (version < 1) return;
  handled_ = kOfFirst | (version >= 2 ? kRefer : 0) | (version >= 3 ? kTruncate : 0) | (version >= 5 ? kDeviceControl : 0);
  Ruleset const set{handled_, version >= 4 ? kBindAndConnect : 0, version >= 6 ? kSocketsAndSignals : 0};
  rules_.reset(static_cast<int>(syscall(SYS_landlock_create_ruleset, &set, size_for(version), 0)));
}

void PathRules::allow(char const* path, std::uint64_t rights) {
  UniqueFd const at(rules_ ? open(path, O_PATH | O_CLOEXEC) : -1);
  if (!at) return;
  std::uint64_t access = 0;
  if (rights & kPathRead) access |= kReading;
  if (rights & kPathExecute) access |= LANDLOCK_ACCESS_FS_EXECUTE;
  if (rights & kPathWrite) access |= kWriting;
  if (rights & kPathWriteDevice) access |= LANDLOCK_ACCESS_FS_WRITE_FILE;
  struct stat about {};
  if (fstat(at.get(), &about) == 0 && !S_ISDIR(about.st_mode)) access &= kOfFiles;
  landlock_path_beneath_attr const rule{access & handled_, at.get()};
  syscall(SYS_landlock_add_rule, rules_.get(), LANDLOCK_RULE_PATH_BENEATH, &rule, 0);
}

bool PathRules::close_in() { return rules_ && syscall(SYS_landlock_restrict_self, rules_.get(), 0) == 0; }

}  // namespace layright
