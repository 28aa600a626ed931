#include "intake/sandbox.h"

#include <linux/landlock.h>
#include <seccomp.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>

#if defined(__SANITIZE_ADDRESS__)
#define LAYRIGHT_SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define LAYRIGHT_SANITIZED 1
#endif
#endif

namespace layright {
namespace {

bool limit(int what, std::size_t bytes) {
  rlimit const r{bytes, bytes};
  return setrlimit(static_cast<__rlimit_resource_t>(what), &r) == 0;
}

/// Address space in use now, so that the limit counts only what the file's reading adds.
[[maybe_unused]] std::size_t mapped_bytes() {
  std::size_t pages = 0;
  if (std::FILE* f = std::fopen("/proc/self/statm", "re")) {
    if (std::fscanf(f, "%zu", &pages) != 1) pages = 0;
    std::fclose(f);
  }
  return pages * static_cast<std::size_t>(sysconf(_SC_PAGESIZE));
}

// A rule set that handles every kind of access and allows none: no path can be opened, made or removed any more.
bool refuse_paths() {
  landlock_ruleset_attr attr{};
  attr.handled_access_fs = LANDLOCK_ACCESS_FS_EXECUTE | LANDLOCK_ACCESS_FS_WRITE_FILE | LANDLOCK_ACCESS_FS_READ_FILE |
                           LANDLOCK_ACCESS_FS_READ_DIR | LANDLOCK_ACCESS_FS_REMOVE_DIR | LANDLOCK_ACCESS_FS_REMOVE_FILE |
                           LANDLOCK_ACCESS_FS_MAKE_CHAR | LANDLOCK_ACCESS_FS_MAKE_DIR | LANDLOCK_ACCESS_FS_MAKE_REG |
                           LANDLOCK_ACCESS_FS_MAKE_SOCK | LANDLOCK_ACCESS_FS_MAKE_FIFO | LANDLOCK_ACCESS_FS_MAKE_BLOCK |
                           LANDLOCK_ACCESS_FS_MAKE_SYM;
  int const rules = static_cast<int>(syscall(SYS_landlock_create_ruleset, &attr, sizeof attr, 0));
  if (rules < 0) return false;
  bool const held = syscall(SYS_landlock_restrict_self, rules, 0) == 0;
  close(rules);
  return held;
}

// What reading, drawing and writing to open descriptors need; all else fails with EPERM, so a library that asks for a file goes on
// without it. sysinfo and ioctl are asked for by the allocator and by stdio.
constexpr std::array kAllowed = {
    SCMP_SYS(read),         SCMP_SYS(write),      SCMP_SYS(readv),     SCMP_SYS(writev),        SCMP_SYS(pread64),
    SCMP_SYS(pwrite64),     SCMP_SYS(close),      SCMP_SYS(lseek),     SCMP_SYS(fstat),         SCMP_SYS(ftruncate),
    SCMP_SYS(munmap),       SCMP_SYS(mremap),     SCMP_SYS(madvise),   SCMP_SYS(brk),           SCMP_SYS(futex),
    SCMP_SYS(clock_gettime), SCMP_SYS(gettimeofday), SCMP_SYS(time),   SCMP_SYS(getrandom),     SCMP_SYS(rt_sigaction),
    SCMP_SYS(rt_sigprocmask), SCMP_SYS(rt_sigreturn), SCMP_SYS(exit),  SCMP_SYS(exit_group),    SCMP_SYS(getpid),
    SCMP_SYS(gettid),       SCMP_SYS(sysinfo),    SCMP_SYS(getrusage), SCMP_SYS(sched_yield),   SCMP_SYS(sigaltstack),
    SCMP_SYS(uname),        SCMP_SYS(restart_syscall), SCMP_SYS(clock_nanosleep), SCMP_SYS(nanosleep)};

/// The library's own macros for this are C, not C++.
scmp_arg_cmp argument(unsigned number, scmp_compare how, scmp_datum_t a, scmp_datum_t b = 0) { return {number, how, a, b}; }

[[maybe_unused]] bool filter_calls() {
  scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ERRNO(EPERM));
  if (!filter) return false;
  bool good = true;
  for (int call : kAllowed) good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, call, 0) == 0 && good;
  // Memory may be mapped and reprotected, never made executable.
  good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(mmap), 1, argument(2, SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)) == 0 && good;
  good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(mprotect), 1, argument(2, SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)) == 0 && good;
  good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(ioctl), 1, argument(1, SCMP_CMP_EQ, TCGETS)) == 0 && good;
  good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(newfstatat), 1, argument(3, SCMP_CMP_MASKED_EQ, 0x1000, 0x1000)) == 0 && good;
  // abort() raises its signal in this very process.
  auto const self = static_cast<scmp_datum_t>(getpid());
  good = seccomp_rule_add(filter, SCMP_ACT_ALLOW, SCMP_SYS(tgkill), 1, argument(0, SCMP_CMP_EQ, self)) == 0 && good;
  good = good && seccomp_load(filter) == 0;
  seccomp_release(filter);
  return good;
}

}  // namespace

SandboxParts enter_sandbox(SandboxLimits const& limits) {
  SandboxParts parts;
  prctl(PR_SET_DUMPABLE, 0);
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_FSIZE, limits.output_bytes);
#ifndef LAYRIGHT_SANITIZED
  parts.memory_limit = limit(RLIMIT_AS, mapped_bytes() + limits.memory_bytes);
#endif
  parts.no_new_privileges = prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0;
  if (!parts.no_new_privileges) return parts;
  parts.file_rules = refuse_paths();
#ifndef LAYRIGHT_SANITIZED
  limit(RLIMIT_NPROC, 0);
  parts.system_call_filter = filter_calls();
#endif
  return parts;
}

SandboxParts probe_sandbox() {
  SandboxParts parts;
  int ends[2];
  if (pipe(ends) != 0) return parts;
  pid_t const child = fork();
  if (child == 0) {
    SandboxParts const held = enter_sandbox({});
    bool const told = write(ends[1], &held, sizeof held) == static_cast<ssize_t>(sizeof held);
    _exit(told ? 0 : 1);
  }
  close(ends[1]);
  if (read(ends[0], &parts, sizeof parts) != static_cast<ssize_t>(sizeof parts)) parts = {};
  close(ends[0]);
  if (child > 0) waitpid(child, nullptr, 0);
  return parts;
}

std::vector<std::string> describe(SandboxParts const& parts) {
  auto const line = [](char const* what, bool held) { return std::string(what) + (held ? ": on" : ": not on this machine"); };
  return {line("no new privileges", parts.no_new_privileges), line("system call filter (seccomp)", parts.system_call_filter),
          line("file access rules (Landlock)", parts.file_rules), line("memory limit", parts.memory_limit)};
}

}  // namespace layright
