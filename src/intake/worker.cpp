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
#include <utility>

namespace layright {

using Clock = std::chrono::steady_clock;

struct WorkerPool::Running {
  std::shared_ptr<Job> job;
  WorkerTask task;
  Receiver receiver;
  pid_t process = -1;
  int descriptor = -1;
  clockid_t processor_clock{};
  Clock::time_point deadline, granted, begun = Clock::now();
  bool overstays = false;            // has given its place back
  std::optional<WorkerEnd> verdict;  // decided by the parent: out of time, flooded
};

namespace {

constexpr int kOutOfMemory = 12, kException = 13;
// On a machine with other work to do a child waits for its turn: only one that gets nowhere for this many times its limit hangs.
constexpr double kWaitsForItsTurn = 10;
// Time is granted anew no oftener than this: a page may take a thousandth of it.
constexpr auto kBetweenGrants = std::chrono::milliseconds(100);

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
  sigset_t none;
  sigemptyset(&none);
  sigprocmask(SIG_SETMASK, &none, nullptr);
  int const nowhere = open("/dev/null", O_RDWR);
  for (int d : {0, 1, 2}) dup2(nowhere, d);
  auto keep = task.keep;
  keep.push_back(out);
  close_all_but(keep);
  try {
    if (task.prepare) task.prepare();
    if (task.shut_in) enter_sandbox(task.limits);
    task.work(Sender(out));
  } catch (std::bad_alloc const&) {
    _exit(kOutOfMemory);
  } catch (...) {
    _exit(kException);
  }
  _exit(0);
}

// Messages are signs of life: the clock starts anew, and the processor-time limit moves on (set from outside; the child cannot).
template <class Running>
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

template <class Running>
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

template <class Running>
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

template <class Running>
void take(Running& r, bool& over) {
  bool const open = r.receiver.take(r.descriptor);
  while (auto message = r.receiver.next()) {
    grant_time(r);
    r.job->message(*message);
  }
  if (r.receiver.flooded()) r.verdict = WorkerEnd{WorkerEnd::How::flooded, 0};
  over = !open || r.receiver.flooded();
}

constexpr int kLowPriority = 10;

}  // namespace

WorkerPool::WorkerPool(int parallel, double longest_moment) : parallel_(std::max(parallel, 1)), longest_moment_(longest_moment) {}

WorkerPool::~WorkerPool() {
  for (auto& r : running_) {
    r->verdict = WorkerEnd{WorkerEnd::How::crashed, SIGKILL};
    reap(*r);
  }
}

bool WorkerPool::has_room() const {
  auto const in_place = std::count_if(running_.begin(), running_.end(), [](auto const& r) { return !r->overstays; });
  return in_place < parallel_;
}

std::vector<int> WorkerPool::descriptors() const {
  std::vector<int> all;
  for (auto const& r : running_) all.push_back(r->descriptor);
  return all;
}

/// Starts the job's next task; false when the job is over.
bool WorkerPool::go_on(Running& r) {
  while (auto task = r.job->next()) {
    r.task = std::move(*task);
    r.receiver = {};
    r.verdict.reset();
    if (layright::start(r)) {
      if (r.overstays) setpriority(PRIO_PROCESS, static_cast<id_t>(r.process), kLowPriority);
      return true;
    }
    r.job->ended({WorkerEnd::How::not_started, 0});
  }
  return false;
}

void WorkerPool::over(Running& r) {
  for (auto& follower : r.job->followers()) followers_.push_back(std::move(follower));
}

void WorkerPool::start(std::shared_ptr<Job> job) {
  auto r = std::make_unique<Running>();
  r->job = std::move(job);
  if (go_on(*r))
    running_.push_back(std::move(r));
  else
    over(*r);
  begin_followers();
}

/// What a job leaves behind comes before any new one.
void WorkerPool::begin_followers() {
  while (!followers_.empty() && has_room()) {
    auto job = std::move(followers_.front());
    followers_.pop_front();
    start(std::move(job));
  }
}

std::vector<bool> WorkerPool::wait(std::span<int const> others, Clock::time_point until) {
  std::vector<pollfd> polled;
  for (auto const& r : running_) {
    polled.push_back({r->descriptor, POLLIN, 0});
    until = std::min(until, r->deadline);
    if (longest_moment_ > 0 && !r->overstays) until = std::min(until, r->begun + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(longest_moment_)));
  }
  for (int descriptor : others) polled.push_back({descriptor, POLLIN, 0});
  auto const left = std::chrono::ceil<std::chrono::milliseconds>(until - Clock::now()).count();
  poll(polled.data(), polled.size(), static_cast<int>(std::clamp<long long>(left, 0, 60000)));
  auto const now = Clock::now();
  auto overstaying = std::count_if(running_.begin(), running_.end(), [](auto const& r) { return r->overstays; });
  auto const count = running_.size();
  for (std::size_t i = 0; i < count; ++i) {
    auto& r = *running_[i];
    bool ended = false;
    if (polled[i].revents != 0) take(r, ended);
    if (!ended && now >= r.deadline) {
      r.verdict = WorkerEnd{WorkerEnd::How::out_of_time, 0};
      ended = true;
    }
    if (ended) {
      r.job->ended(reap(r));
      if (go_on(r)) continue;
      over(r);
      r.process = -1;
    } else if (longest_moment_ > 0 && !r.overstays && now - r.begun >= std::chrono::duration<double>(longest_moment_) && overstaying < 2 * parallel_) {
      r.overstays = true;
      ++overstaying;
      setpriority(PRIO_PROCESS, static_cast<id_t>(r.process), kLowPriority);
    }
  }
  std::erase_if(running_, [](auto const& r) { return r->process == -1; });
  begin_followers();
  std::vector<bool> readable;
  for (std::size_t i = 0; i < others.size(); ++i) readable.push_back((polled[count + i].revents & (POLLIN | POLLHUP | POLLERR)) != 0);
  return readable;
}

void run_jobs(std::function<std::shared_ptr<Job>()> const& more, int parallel) {
  WorkerPool pool(parallel);
  bool exhausted = false;
  for (;;) {
    while (!exhausted && pool.has_room()) {
      auto job = more();
      if (job)
        pool.start(std::move(job));
      else
        exhausted = true;
    }
    if (pool.idle()) return;
    pool.wait({}, Clock::time_point::max());
  }
}

int usual_parallel() {
  cpu_set_t set;
  if (sched_getaffinity(0, sizeof set, &set) == 0) return std::max(1, CPU_COUNT(&set));
  return static_cast<int>(std::max(1L, sysconf(_SC_NPROCESSORS_ONLN)));
}

}  // namespace layright
