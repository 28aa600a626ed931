#include "intake/worker.h"

#include <fcntl.h>
#include <poll.h>
#include <sched.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <deque>
#include <new>

namespace layright {
namespace {

using Clock = std::chrono::steady_clock;
constexpr int kOutOfMemory = 12, kException = 13;
// On a machine with other work to do a child waits for its turn: only one that gets nowhere for this many times its limit hangs.
constexpr double kWaitsForItsTurn = 10;
// Time is granted anew no oftener than this: a page may take a thousandth of it.
constexpr auto kBetweenGrants = std::chrono::milliseconds(100);

struct Running {
  std::shared_ptr<Job> job;
  WorkerTask task;
  Receiver receiver;
  pid_t process = -1;
  int descriptor = -1;
  clockid_t processor_clock{};
  Clock::time_point deadline, granted;
  std::optional<WorkerEnd> verdict;  // decided by the parent: out of time, flooded
};

void close_all_but(std::vector<int> keep) {
  std::sort(keep.begin(), keep.end());
  unsigned from = 3;
  for (int descriptor : keep) {
    auto const d = static_cast<unsigned>(descriptor);
    if (d < from) continue;
    if (d > from) syscall(SYS_close_range, from, d - 1, 0);
    from = d + 1;
  }
  syscall(SYS_close_range, from, ~0u, 0);
}

[[noreturn]] void be_child(WorkerTask const& task, int out, pid_t parent) {
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (getppid() != parent) _exit(0);
  for (int s : {SIGINT, SIGTERM, SIGHUP, SIGPIPE}) signal(s, SIG_DFL);
  int const nowhere = open("/dev/null", O_RDWR);
  for (int d : {0, 1, 2}) dup2(nowhere, d);
  auto keep = task.keep;
  keep.push_back(out);
  close_all_but(keep);
  try {
    if (task.prepare) task.prepare();
    enter_sandbox(task.limits);
    task.work(Sender(out));
  } catch (std::bad_alloc const&) {
    _exit(kOutOfMemory);
  } catch (...) {
    _exit(kException);
  }
  _exit(0);
}

// Messages are signs of life: the clock starts anew, and the processor-time limit moves on (set from outside; the child cannot).
void grant_time(Running& r) {
  auto const now = Clock::now();
  if (now - r.granted < kBetweenGrants) return;
  r.granted = now;
  r.deadline = now + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(r.task.seconds * kWaitsForItsTurn));
  timespec used{};
  clock_gettime(r.processor_clock, &used);
  rlimit limit{};
  if (prlimit(r.process, RLIMIT_CPU, nullptr, &limit) != 0) return;
  limit.rlim_cur = static_cast<rlim_t>(used.tv_sec) + static_cast<rlim_t>(std::ceil(r.task.seconds)) + 1;
  prlimit(r.process, RLIMIT_CPU, &limit, nullptr);
}

bool start(Running& r) {
  int ends[2];
  if (pipe2(ends, O_CLOEXEC) != 0) return false;
  pid_t const parent = getpid();
  r.process = fork();
  if (r.process == 0) {
    close(ends[0]);
    be_child(r.task, ends[1], parent);
  }
  close(ends[1]);
  if (r.process < 0) {
    close(ends[0]);
    return false;
  }
  r.descriptor = ends[0];
  r.granted = {};
  clock_getcpuclockid(r.process, &r.processor_clock);
  grant_time(r);
  return true;
}

/// A child that has closed its pipe is about to end; one that does not is ended.
void end_soon(pid_t process) {
  int const handle = static_cast<int>(syscall(SYS_pidfd_open, process, 0));
  if (handle < 0) return;
  pollfd ended{handle, POLLIN, 0};
  if (poll(&ended, 1, 2000) == 0) kill(process, SIGKILL);
  close(handle);
}

WorkerEnd reap(Running& r) {
  close(r.descriptor);
  if (r.verdict) kill(r.process, SIGKILL);
  end_soon(r.process);
  int status = 0;
  while (waitpid(r.process, &status, 0) < 0 && errno == EINTR) {
  }
  if (r.verdict) return *r.verdict;
  using How = WorkerEnd::How;
  if (WIFSIGNALED(status)) {
    if (WTERMSIG(status) == SIGXCPU) return {How::out_of_time, SIGXCPU};
    return {How::crashed, WTERMSIG(status)};
  }
  switch (WEXITSTATUS(status)) {
    case 0: return {How::finished, 0};
    case kOutOfMemory: return {How::out_of_memory, 0};
    default: return {How::crashed, 0};
  }
}

/// Starts the job's next task; false when the job is over.
bool go_on(Running& r) {
  while (auto task = r.job->next()) {
    r.task = std::move(*task);
    r.receiver = {};
    r.verdict.reset();
    if (start(r)) return true;
    r.job->ended({WorkerEnd::How::not_started, 0});
  }
  return false;
}

void take(Running& r, bool& over) {
  bool const open = r.receiver.take(r.descriptor);
  while (auto message = r.receiver.next()) {
    grant_time(r);
    r.job->message(*message);
  }
  if (r.receiver.flooded()) r.verdict = WorkerEnd{WorkerEnd::How::flooded, 0};
  over = !open || r.receiver.flooded();
}

}  // namespace

void run_jobs(std::function<std::shared_ptr<Job>()> const& more, int parallel) {
  std::vector<Running> running;
  std::deque<std::shared_ptr<Job>> followers;
  bool exhausted = false;
  auto const follow = [&](Job& job) {
    for (auto& follower : job.followers()) followers.push_back(std::move(follower));
  };
  auto const next_job = [&]() -> std::shared_ptr<Job> {
    if (followers.empty()) return exhausted ? nullptr : more();
    auto job = std::move(followers.front());
    followers.pop_front();
    return job;
  };
  for (;;) {
    while (running.size() < static_cast<std::size_t>(std::max(parallel, 1))) {
      auto job = next_job();
      if (!job) {
        exhausted = true;
        break;
      }
      Running r;
      r.job = std::move(job);
      if (go_on(r))
        running.push_back(std::move(r));
      else
        follow(*r.job);
    }
    if (running.empty()) {
      if (exhausted) return;
      continue;
    }
    std::vector<pollfd> polled;
    auto soonest = Clock::time_point::max();
    for (auto const& r : running) {
      polled.push_back({r.descriptor, POLLIN, 0});
      soonest = std::min(soonest, r.deadline);
    }
    auto const wait = std::chrono::ceil<std::chrono::milliseconds>(soonest - Clock::now()).count();
    poll(polled.data(), polled.size(), static_cast<int>(std::clamp<long long>(wait, 0, 60000)));
    for (std::size_t i = 0; i < running.size(); ++i) {
      auto& r = running[i];
      bool over = false;
      if (polled[i].revents != 0) take(r, over);
      if (!over && Clock::now() >= r.deadline) {
        r.verdict = WorkerEnd{WorkerEnd::How::out_of_time, 0};
        over = true;
      }
      if (!over) continue;
      r.job->ended(reap(r));
      if (go_on(r)) continue;
      follow(*r.job);
      r.process = -1;
    }
    std::erase_if(running, [](Running const& r) { return r.process == -1; });
  }
}

int usual_parallel() {
  cpu_set_t set;
  if (sched_getaffinity(0, sizeof set, &set) == 0) return std::max(1, CPU_COUNT(&set));
  return static_cast<int>(std::max(1L, sysconf(_SC_NPROCESSORS_ONLN)));
}

}  // namespace layright
