#include "setup/talk.h"

#include <poll.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <string_view>

#include "base/memory_watched.h"
#include "base/unique_fd.h"
#include "base/write_all.h"

namespace layright {
namespace {

using Clock = std::chrono::steady_clock;
using Size = std::uint32_t;  // stands before each report

void limit(int resource, std::size_t most) {
  rlimit const both{most, most};
  (void)setrlimit(static_cast<__rlimit_resource>(resource), &both);
}

void limit_memory(std::size_t more) {
  if constexpr (kMemoryIsWatched) return;
  std::size_t pages = 0;
  if (std::FILE* f = std::fopen("/proc/self/statm", "re")) {
    if (std::fscanf(f, "%zu", &pages) != 1) pages = 0;
    std::fclose(f);
  }
  if (pages > 0) limit(RLIMIT_AS, pages * static_cast<std::size_t>(sysconf(_SC_PAGESIZE)) + more);
}

[[noreturn]] void child(std::function<void(ReportToParent const&)> const& work, TalkLimits const& limits, int descriptor) {
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  for (int const fatal : {SIGSEGV, SIGABRT, SIGBUS, SIGILL, SIGFPE}) std::signal(fatal, SIG_DFL);  // whatever the parent does with them
  std::signal(SIGPIPE, SIG_IGN);
  limit(RLIMIT_CORE, 0);
  limit_memory(limits.memory_bytes);
  int status = 0;
  try {
    work([descriptor](std::string const& report) {
      Size const size = static_cast<Size>(report.size());
      char head[sizeof size];
      std::memcpy(head, &size, sizeof size);
      if (write_all(descriptor, std::string_view(head, sizeof head)) != 0 || write_all(descriptor, report) != 0) _exit(0);
    });
  } catch (...) {
    status = 1;  // out of memory
  }
  _exit(status);  // no buffers of the parent's are written twice, and nothing that a press built up is taken down
}

/// Takes whole reports off what came. False when the listener has heard enough.
bool hear_all(std::string& waiting, HearChild const& hear) {
  std::size_t at = 0;
  bool more = true;
  Size size = 0;
  while (more && waiting.size() - at >= sizeof size) {
    std::memcpy(&size, waiting.data() + at, sizeof size);
    if (waiting.size() - at - sizeof size < size) break;
    more = hear(waiting.substr(at + sizeof size, size));
    at += sizeof size + size;
  }
  waiting.erase(0, at);
  return more;
}

TalkEnd listen(int descriptor, TalkLimits const& limits, HearChild const& hear) {
  auto const patience = std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(limits.seconds));
  std::string waiting;
  char buffer[65536];
  for (auto until = Clock::now() + patience;;) {
    auto const left = std::chrono::duration_cast<std::chrono::milliseconds>(until - Clock::now()).count();
    if (left <= 0) return TalkEnd::out_of_time;
    pollfd ready{descriptor, POLLIN, 0};
    if (poll(&ready, 1, static_cast<int>(std::min<long long>(left, 3600000))) <= 0) continue;
    auto const n = read(descriptor, buffer, sizeof buffer);
    if (n < 0 && (errno == EINTR || errno == EAGAIN)) continue;
    if (n <= 0) return TalkEnd::finished;
    waiting.append(buffer, static_cast<std::size_t>(n));
    auto const before = waiting.size();
    if (!hear_all(waiting, hear)) return TalkEnd::stopped;
    if (waiting.size() != before) until = Clock::now() + patience;
    if (waiting.size() > limits.report_bytes) return TalkEnd::broken;
  }
}

}  // namespace

TalkEnd talk(std::function<void(ReportToParent const&)> const& work, TalkLimits const& limits, HearChild const& hear) {
  auto pipe = make_pipe();
  if (!pipe) return TalkEnd::not_started;
  pid_t const pid = fork();
  if (pid < 0) return TalkEnd::not_started;
  if (pid == 0) {
    pipe->out.reset();
    child(work, limits, pipe->in.get());
  }
  pipe->in.reset();
  TalkEnd end = listen(pipe->out.get(), limits, hear);
  pipe->out.reset();
  if (end != TalkEnd::finished) kill(pid, SIGKILL);
  int status = 0;
  while (waitpid(pid, &status, 0) < 0 && errno == EINTR) {
  }
  if (end == TalkEnd::finished && !(WIFEXITED(status) && WEXITSTATUS(status) == 0)) end = TalkEnd::broken;
  return end;
}

}  // namespace layright
