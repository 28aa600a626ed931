#include "isolate/sandbox.h"

#include <fcntl.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <span>
#include <utility>

#include "base/memory_watched.h"
#include "base/write_all.h"
#include "isolate/call_filter.h"
#include "isolate/lesser_user.h"
#include "isolate/path_rules.h"

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

bool must_be_whole = false;

}  // namespace

SandboxParts enter_sandbox(SandboxLimits const& limits) {
  SandboxParts parts;
  prctl(PR_SET_DUMPABLE, 0);
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_FSIZE, limits.output_bytes);
  if constexpr (!kMemoryIsWatched) parts.memory_limit = limit(RLIMIT_AS, mapped_bytes() + limits.memory_bytes);
  parts.lesser_user = become_nobody();
  parts.no_new_privileges = prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0;
  if (!parts.no_new_privileges) return parts;
  parts.file_rules = PathRules().close_in();
  if constexpr (!kMemoryIsWatched) {
    limit(RLIMIT_NPROC, 0);
    parts.system_call_filter = filter_reader_calls();
  }
  return parts;
}

SandboxProbe::SandboxProbe() {
  auto pipe = make_pipe();
  if (!pipe) return;
  child_ = fork();
  if (child_ == 0) {
    SandboxParts const held = enter_sandbox({});
    bool const reported = write_all(pipe->in.get(), std::as_bytes(std::span(&held, 1))) == 0;
    _exit(reported ? 0 : 1);
  }
  from_ = std::move(pipe->out);
}

SandboxParts const& SandboxProbe::parts() {
  if (!from_) return parts_;
  if (read(from_.get(), &parts_, sizeof parts_) != static_cast<ssize_t>(sizeof parts_)) parts_ = {};
  from_.reset();
  if (child_ > 0) waitpid(child_, nullptr, 0);
  return parts_;
}

SandboxParts probe_sandbox() { return SandboxProbe().parts(); }

std::vector<std::string> sandbox_gaps(SandboxParts const& parts) {
  std::vector<std::string> gaps;
  if (!kMemoryIsWatched && !parts.system_call_filter) gaps.push_back("a filter of system calls (seccomp)");
  if (!parts.file_rules) gaps.push_back("rules for access to files (Landlock)");
  if (!parts.no_new_privileges) gaps.push_back("no_new_privs");
  return gaps;
}

void require_whole_sandbox() { must_be_whole = true; }
bool whole_sandbox_required() { return must_be_whole; }

std::vector<std::string> describe(SandboxParts const& parts) {
  auto const line = [](char const* what, bool held) { return std::string(what) + (held ? ": on" : ": not on this machine"); };
  return {line("no new privileges", parts.no_new_privileges), line("system call filter (seccomp)", parts.system_call_filter),
          line("file access rules (Landlock)", parts.file_rules), line("memory limit", parts.memory_limit)};
}

}  // namespace layright
