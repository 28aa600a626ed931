#include "isolate/sandboxed_program.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <optional>

#include "base/memory_watched.h"
#include "base/unique_fd.h"
#include "isolate/call_filter.h"
#include "isolate/lesser_user.h"
#include "isolate/memory_in_use.h"
#include "isolate/path_rules.h"
#include "isolate/sandbox.h"
#include "isolate/scratch_folder.h"

namespace layright {
namespace {

namespace fs = std::filesystem;
using SteadyClock = std::chrono::steady_clock;

// Where Debian keeps programs, libraries, fonts and what lists them. Of /etc only what finding a library, a font or a size of paper takes.
constexpr std::array kReadable = {"/usr",
                                  "/lib",
                                  "/lib64",
                                  "/bin",
                                  "/etc/fonts",
                                  "/etc/ghostscript",
                                  "/etc/ld.so.cache",
                                  "/etc/papersize",
                                  "/var/lib/ghostscript",
                                  "/var/cache/fontconfig"};
constexpr std::array kLoaders = {"/lib", "/lib64", "/usr/lib"};
constexpr int kMostOpen = 256;
constexpr int kLowPriority = 10;  // a drawing that never ends must not slow down files that are read
// On a machine with other work to do it waits for its turn: by the clock it has so many times its time.
constexpr double kWaitsForItsTurn = 4;
constexpr auto kBetweenLooks = std::chrono::milliseconds(40);
constexpr int kNotInstalled = 127, kNotShutIn = 126;

void keep_to_folders(PathRules& rules, std::string const& program) {
  for (auto const* path : kReadable) rules.allow(path, kPathRead);
  for (auto const* path : kLoaders) rules.allow(path, kPathRead | kPathExecute);
  rules.allow(program.c_str(), kPathRead | kPathExecute);
  rules.allow("/dev/null", kPathRead | kPathWriteDevice);
  rules.allow("/dev/urandom", kPathRead);
  rules.allow(".", kPathRead | kPathWrite);
}

void set_limit(__rlimit_resource_t what, rlim_t value) {
  rlimit const r{value, value};
  setrlimit(what, &r);
}

/// Processes and threads that the user of this process has now.
rlim_t tasks_of_this_user() {
  rlim_t count = 0;
  std::error_code error;
  for (fs::directory_iterator it("/proc", error), end; !error && it != end; it.increment(error)) {
    struct stat about {};
    auto const name = it->path().filename().native();
    if (name.find_first_not_of("0123456789") != std::string::npos || stat(it->path().c_str(), &about) != 0 || about.st_uid != geteuid()) continue;
    std::error_code gone;
    for (fs::directory_iterator task(it->path() / "task", gone), last; !gone && task != last; task.increment(gone)) ++count;
  }
  return count;
}

[[noreturn]] void become(SandboxedProgram const& program, ScratchFolder const& scratch, int said, pid_t parent) {
  setpgid(0, 0);
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (getppid() != parent) _exit(0);
  dup2(program.input, 0);
  dup2(program.output, 1);
  dup2(said, 2);
  // The folder itself, since a user without rights may not be let through to it from the root.
  bool const there = fchdir(scratch.descriptor()) == 0;
  std::string const path = "/usr/bin/" + program.words[0];
  syscall(SYS_close_range, 3u, ~0u, 0);
  PathRules rules;
  keep_to_folders(rules, path);
  setpriority(PRIO_PROCESS, 0, kLowPriority);
  become_nobody();
  set_limit(RLIMIT_CORE, 0);
  if constexpr (!kMemoryIsWatched) set_limit(RLIMIT_AS, program.memory_bytes);
  set_limit(RLIMIT_FSIZE, program.output_bytes);
  set_limit(RLIMIT_NOFILE, kMostOpen);
  set_limit(RLIMIT_NPROC, program.threads > 0 ? tasks_of_this_user() + static_cast<rlim_t>(program.threads) : 0);
  auto const seconds = static_cast<rlim_t>(std::ceil(program.seconds));
  rlimit const processor{seconds, seconds + 1};  // at the first it gets a signal of its own, at the second one that tells nothing
  setrlimit(RLIMIT_CPU, &processor);
  prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0);
  if (!there || access(path.c_str(), X_OK) != 0) _exit(kNotInstalled);
  bool whole = rules.close_in();
  std::array<char*, 5> environment{const_cast<char*>("TMPDIR=."), const_cast<char*>("PATH=/usr/bin"), const_cast<char*>("LC_ALL=C.UTF-8"),
                                   const_cast<char*>("RAYON_NUM_THREADS=1"), nullptr};
  std::vector<char*> words;
  for (auto const& w : program.words) words.push_back(const_cast<char*>(w.c_str()));
  words.push_back(nullptr);
  whole = filter_program_calls() && whole;
  if (!whole && whole_sandbox_required()) _exit(kNotShutIn);
  execve(path.c_str(), words.data(), environment.data());
  _exit(kNotInstalled);
}

/// The first few lines of what the program said, in one.
std::string first_words(int said) {
  std::array<char, 300> text{};
  ssize_t const n = pread(said, text.data(), text.size() - 1, 0);
  std::string line(text.data(), static_cast<std::size_t>(n > 0 ? n : 0));
  for (auto& c : line)
    if (c == '\n' || c == '\r') c = ' ';
  return line;
}

/// Files of the program that have no name any more, so that no look at its folder finds them.
std::size_t nameless_bytes(pid_t process, SandboxedProgram const& program) {
  struct stat own[2] = {}, about{};
  fstat(program.output, &own[0]);
  fstat(program.input, &own[1]);
  std::size_t sum = 0;
  std::error_code error;
  for (fs::directory_iterator it("/proc/" + std::to_string(process) + "/fd", error), end; !error && it != end; it.increment(error)) {
    if (stat(it->path().c_str(), &about) != 0 || !S_ISREG(about.st_mode) || about.st_nlink > 0) continue;
    if (about.st_ino == own[0].st_ino || about.st_ino == own[1].st_ino) continue;
    sum += static_cast<std::size_t>(about.st_blocks) * 512;
  }
  return sum;
}

std::string megabytes(std::size_t bytes) { return std::to_string(bytes >> 20) + " MB"; }

/// Why it must end now; nothing as long as it may go on. Goes on from the program's name: "gs …".
std::optional<std::string> too_much(pid_t process, SandboxedProgram const& program, ScratchFolder const& scratch) {
  auto const in_use = [&] {
    return memory_of_process(process) + memory_of_process(getpid()) + memory_of_files(std::array{program.output, program.messages});
  };
  if (program.resident_bytes > 0 && in_use() > program.resident_bytes) return "took more than " + megabytes(program.resident_bytes) + " of memory";
  if (scratch.bytes() + nameless_bytes(process, program) > program.scratch_bytes)
    return "filled more than " + megabytes(program.scratch_bytes) + " with scratch files";
  return std::nullopt;
}

/// Why it was ended; nothing where it came to its end by itself.
std::optional<std::string> see_to_its_end(pid_t child, SandboxedProgram const& program, ScratchFolder const& scratch) {
  UniqueFd const handle(static_cast<int>(syscall(SYS_pidfd_open, child, 0)));
  if (!handle) return std::nullopt;
  auto const end =
      SteadyClock::now() + std::chrono::duration_cast<SteadyClock::duration>(std::chrono::duration<double>(program.seconds * kWaitsForItsTurn));
  std::optional<std::string> why;
  for (pollfd ended{handle.get(), POLLIN, 0}; !why;) {
    auto const left = std::chrono::ceil<std::chrono::milliseconds>(end - SteadyClock::now());
    if (left.count() <= 0) why = "took longer than " + std::to_string(static_cast<int>(std::ceil(program.seconds))) + " s";
    else if (poll(&ended, 1, static_cast<int>(std::min<std::chrono::milliseconds>(left, kBetweenLooks).count())) > 0) break;
    else why = too_much(child, program, scratch);
  }
  return why;
}

}  // namespace

Outcome run_shut_in(SandboxedProgram const& program) {
  ScratchFolder const scratch;
  if (!scratch.ok()) return Error{ErrorKind::io, std::string("no folder for scratch files can be made: ") + std::strerror(errno)};
  UniqueFd const said(program.messages >= 0 ? dup(program.messages) : memfd_create("what the program said", MFD_CLOEXEC));
  pid_t const parent = getpid(), child = fork();
  if (child == 0) become(program, scratch, said.get(), parent);
  std::optional<std::string> why;
  int status = 0;
  if (child > 0) {
    setpgid(child, child);
    why = see_to_its_end(child, program, scratch);
    kill(-child, SIGKILL);  // whatever it may have begun dies with it
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
  }
  auto const words = first_words(said.get());
  auto const& name = program.words[0];
  if (child < 0) return Error{ErrorKind::io, "no process could be started; try again"};
  if (!why && WIFSIGNALED(status) && WTERMSIG(status) == SIGXCPU)
    why = "took longer than " + std::to_string(static_cast<int>(std::ceil(program.seconds))) + " s";
  if (!why && WIFSIGNALED(status) && WTERMSIG(status) == SIGXFSZ) why = "wrote a file of more than " + megabytes(program.output_bytes);
  if (why) return Error{ErrorKind::hold, name + " " + *why};
  if (WIFEXITED(status) && WEXITSTATUS(status) == kNotInstalled) return Error{ErrorKind::internal, name + " is not installed"};
  if (WIFEXITED(status) && WEXITSTATUS(status) == kNotShutIn)
    return Error{ErrorKind::internal, name + " was not started, because this machine cannot shut it in as it must be"};
  if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) return Error{ErrorKind::internal, name + " failed" + (words.empty() ? "" : ": " + words)};
  return done();
}

}  // namespace layright
