#include "command/own_program.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstring>

#include "base/unique_fd.h"

namespace layright {
namespace {

constexpr std::size_t kMostPrinted = 64 << 20;
constexpr int kLookEvery = 200;  // ms

/// What a child begins with: no signal held back, nothing open but what it prints into.
class SpawnOptions {
 public:
  /// `output`: what it prints into, in place of its standard output, and its complaints into nothing; below 0: both as this program's own.
  explicit SpawnOptions(int output) {
    sigset_t none;
    sigemptyset(&none);
    posix_spawnattr_init(&attributes_);
    posix_spawnattr_setflags(&attributes_, POSIX_SPAWN_SETSIGMASK);
    posix_spawnattr_setsigmask(&attributes_, &none);
    posix_spawn_file_actions_init(&actions_);
    posix_spawn_file_actions_addopen(&actions_, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    if (output >= 0) {
      posix_spawn_file_actions_adddup2(&actions_, output, STDOUT_FILENO);
      posix_spawn_file_actions_addopen(&actions_, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    }
    posix_spawn_file_actions_addclosefrom_np(&actions_, STDERR_FILENO + 1);  // others' connections
  }
  ~SpawnOptions() {
    posix_spawnattr_destroy(&attributes_);
    posix_spawn_file_actions_destroy(&actions_);
  }
  SpawnOptions(SpawnOptions const&) = delete;
  SpawnOptions& operator=(SpawnOptions const&) = delete;

  int spawn(pid_t& child, char** words) const { return posix_spawn(&child, "/proc/self/exe", &actions_, &attributes_, words, environ); }

 private:
  posix_spawnattr_t attributes_;
  posix_spawn_file_actions_t actions_;
};

Result<pid_t> spawned(std::vector<std::string> const& words, int output) {
  auto kept = words;
  kept.insert(kept.begin(), "layright");
  std::vector<char*> pointers;
  for (auto& each : kept) pointers.push_back(each.data());
  pointers.push_back(nullptr);
  pid_t child = 0;
  if (int const error = SpawnOptions(output).spawn(child, pointers.data()); error != 0)
    return Error{ErrorKind::internal, std::string("layright ") + words.front() + " cannot be begun: " + std::strerror(error)};
  return child;
}

int end_of(pid_t child) {
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  return status;
}

}  // namespace

OwnChild::~OwnChild() {
  if (process_ <= 0) return;
  ::kill(process_, SIGTERM);
  (void)end_of(process_);
}

Result<OwnChild> begin_own_program(std::vector<std::string> const& words) {
  auto const child = spawned(words, -1);
  if (!child) return child.error();
  return OwnChild(*child);
}

Result<OwnRun> run_own_program(std::vector<std::string> const& words, OwnRunLimits const& limits) {
  auto pipe = make_pipe();
  if (!pipe) return Error{ErrorKind::internal, std::string("no pipe can be made: ") + std::strerror(errno)};
  auto const begun = spawned(words, pipe->in.get());
  if (!begun) return begun.error();
  pid_t const child = *begun;
  pipe->in.reset();
  OwnRun run;
  auto const end = std::chrono::steady_clock::now() + std::chrono::duration<double>(limits.seconds);
  bool const watched = limits.seconds > 0 || limits.stop;
  std::string trouble;
  char piece[64 << 10];
  while (true) {
    pollfd waiting{pipe->out.get(), POLLIN, 0};
    if (watched && ::poll(&waiting, 1, kLookEvery) <= 0) {
      bool const late = limits.seconds > 0 && std::chrono::steady_clock::now() >= end;
      if (!late && !(limits.stop && limits.stop())) continue;
      trouble = late ? "took too long" : "was ended";
      ::kill(child, SIGKILL);
      break;  // what it began may still have the pipe
    }
    auto const got = ::read(pipe->out.get(), piece, sizeof piece);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) break;
    run.output.append(piece, static_cast<std::size_t>(got));
    if (run.output.size() <= kMostPrinted) continue;
    trouble = "printed without end";
    ::kill(child, SIGKILL);
    break;
  }
  int const status = end_of(child);
  run.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  if (!trouble.empty()) return Error{ErrorKind::internal, "layright " + words.front() + " " + trouble};
  return run;
}

}  // namespace layright
