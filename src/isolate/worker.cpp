#include "isolate/worker.h"

#include <fcntl.h>
#include <malloc.h>
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

#include "base/memory_watched.h"
#include "base/unique_fd.h"
#include "isolate/lesser_user.h"
#include "isolate/memory_in_use.h"

namespace layright {

using Clock = std::chrono::steady_clock;

struct WorkerPool::Running {
  std::shared_ptr<Job> job;
  WorkerTask task;
  Receiver receiver;
  pid_t process = -1;
  UniqueFd from;  // what it tells
  clockid_t processor_clock{};
  Clock::time_point deadline, granted, started, begun = Clock::now();
  double allowed = 0;                // seconds on its processor clock
  Clock::time_point look_at{};       // when it may have used them up at the earliest
  bool overstays = false;            // has given its place back
  std::size_t most_memory = 0;       // with all that it begins, and with what it writes that lies in memory
  std::optional<WorkerEnd> verdict;  // decided by the parent: out of time, flooded
};

namespace {

constexpr int kOutOfMemory = 12, kException = 13, kNoSandbox = 14;
// On a machine with other work to do a child waits for its turn: only one that gets nowhere for this many times its limit hangs.
constexpr double kWaitsForATurn = 10;
// Time is granted anew no oftener than this: a page may take a thousandth of it.
constexpr auto kBetweenGrants = std::chrono::milliseconds(100);
// What a child loads for itself before the file comes, such as an engine that reads letters.
constexpr std::size_t kLoaded = std::size_t{128} << 20;
constexpr auto kBetweenMemoryLooks = std::chrono::milliseconds(200);

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

/// Blocks of a page's drawing are as large as this, and drawn again and again: what the system gave once is kept for the next, since it takes
/// longer to give memory than to draw in it.
void keep_memory() {
  constexpr int kKeptBlock = 32 << 20, kKeptHeap = 128 << 20;  // bytes
  mallopt(M_MMAP_THRESHOLD, kKeptBlock);
  mallopt(M_TRIM_THRESHOLD, kKeptHeap);
}

[[noreturn]] void be_child(WorkerTask const& task, int out, pid_t parent) {
  setpgid(0, 0);
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
  bool const mapped = !task.input || task.input->map_here();
  close_all_but(keep);
  keep_memory();
  try {
    if (!mapped) throw std::bad_alloc();
    if (task.prepare) task.prepare();
    if (task.shut_in && !sandbox_gaps(enter_sandbox(task.limits)).empty() && whole_sandbox_required()) _exit(kNoSandbox);
    task.work(Sender(out));
  } catch (std::bad_alloc const&) {
    _exit(kOutOfMemory);
  } catch (...) {
    _exit(kException);
  }
  _exit(0);
}

Clock::duration by_the_clock(double seconds) {
  return std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(seconds * kWaitsForATurn));
}

template <class Running>
double processor_seconds(Running const& r) {
  timespec used{};
  clock_gettime(r.processor_clock, &used);
  return static_cast<double>(used.tv_sec) + static_cast<double>(used.tv_nsec) * 1e-9;
}

template <class Running>
void look_again(Running& r, Clock::time_point now, double used) {
  constexpr double kSoonest = 0.02;
  r.look_at = now + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(std::max(kSoonest, r.allowed - used)));
}

// Messages are signs of life: the clock starts anew, and so does the processor time. The kernel sees to that where it lets us set it from outside;
// children of root are somebody else's, which takes a right that root may lack, so we look as well.
template <class Running>
void grant_time(Running& r) {
  auto const now = Clock::now();
  if (now - r.granted < kBetweenGrants) return;
  r.granted = now;
  bool const in_all = r.task.seconds_in_all > 0;
  r.deadline = now + by_the_clock(r.task.seconds);
  if (in_all) r.deadline = std::min(r.deadline, r.started + by_the_clock(r.task.seconds_in_all));
  double const used = processor_seconds(r);
  r.allowed = used + std::ceil(r.task.seconds) + 1;
  if (in_all) r.allowed = std::min(r.allowed, r.task.seconds_in_all);
  look_again(r, now, used);
  rlimit limit{};
  if (is_root() || prlimit(r.process, RLIMIT_CPU, nullptr, &limit) != 0) return;
  limit.rlim_cur = static_cast<rlim_t>(std::ceil(r.allowed));
  prlimit(r.process, RLIMIT_CPU, &limit, nullptr);
}

template <class Running>
bool start(Running& r) {
  auto pipe = make_pipe();
  if (!pipe) return false;
  pid_t const parent = getpid();
  r.process = fork();
  if (r.process == 0) be_child(r.task, pipe->in.get(), parent);
  if (r.process < 0) return false;
  setpgid(r.process, r.process);  // it dies with all that it begins
  r.from = std::move(pipe->out);
  r.granted = {};
  r.started = Clock::now();
  r.most_memory = memory_of_process(parent) + memory_of_files(r.task.keep) + r.task.limits.memory_bytes + kLoaded;
  clock_getcpuclockid(r.process, &r.processor_clock);
  grant_time(r);
  return true;
}

/// A child that has closed its pipe is about to end; one that does not is ended.
void end_soon(pid_t process) {
  UniqueFd const handle(static_cast<int>(syscall(SYS_pidfd_open, process, 0)));
  pollfd ended{handle.get(), POLLIN, 0};
  if (handle && poll(&ended, 1, 2000) == 0) kill(-process, SIGKILL);
}

template <class Running>
WorkerEnd reap(Running& r) {
  r.from.reset();
  if (r.verdict) kill(-r.process, SIGKILL);
  end_soon(r.process);
  int status = 0;
  rusage used{};
  while (wait4(r.process, &status, 0, &used) < 0 && errno == EINTR) {
  }
  auto const seconds = [](timeval t) { return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) * 1e-6; };
  using How = WorkerEnd::How;
  WorkerEnd end{How::finished, 0};
  if (r.verdict) end = *r.verdict;
  else if (WIFSIGNALED(status)) end = WTERMSIG(status) == SIGXCPU ? WorkerEnd{How::out_of_time, SIGXCPU} : WorkerEnd{How::crashed, WTERMSIG(status)};
  else if (WEXITSTATUS(status) == kOutOfMemory) end.how = How::out_of_memory;
  else if (WEXITSTATUS(status) == kNoSandbox) end.how = How::not_started;
  else if (WEXITSTATUS(status) != 0) end.how = How::crashed;
  end.seconds = seconds(used.ru_utime) + seconds(used.ru_stime);
  if (r.task.waiting_counts) end.seconds = std::max(end.seconds, std::chrono::duration<double>(Clock::now() - r.started).count() / 4);
  end.in_all = end.how == How::out_of_time && r.task.seconds_in_all > 0 &&
               (end.seconds >= r.task.seconds_in_all - 0.5 || Clock::now() - r.started >= by_the_clock(r.task.seconds_in_all));
  return end;
}

template <class Running>
void take(Running& r, bool& over) {
  bool const open = r.receiver.take(r.from.get());
  while (auto message = r.receiver.next()) {
    grant_time(r);
    r.job->message(*message);
  }
  if (r.receiver.flooded()) r.verdict = WorkerEnd{WorkerEnd::How::flooded};
  over = !open || r.receiver.flooded();
}

constexpr int kNiceness = 10;

// A limit on address space holds for each process alone; whether a child keeps to it with all that it has begun is seen from here. Where memory is
// watched (sanitizers), what it takes says nothing.
template <class Children>
void end_greedy(Children& children) {
  if (kMemoryIsWatched) return;
  ProcessTree const tree;
  for (auto const& r : children)
    if (r->task.shut_in && !r->verdict && tree.memory_of(r->process) + memory_of_files(r->task.keep) > r->most_memory)
      r->verdict = WorkerEnd{WorkerEnd::How::out_of_memory};
}

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
  for (auto const& r : running_) all.push_back(r->from.get());
  return all;
}

/// Starts the job's next task; false when the job is over.
bool WorkerPool::go_on(Running& r) {
  while (auto task = r.job->next()) {
    r.task = std::move(*task);
    r.receiver = {};
    r.verdict.reset();
    if (layright::start(r)) {
      if (r.overstays) setpriority(PRIO_PGRP, static_cast<id_t>(r.process), kNiceness);
      return true;
    }
    r.job->ended({WorkerEnd::How::not_started});
  }
  return false;
}

void WorkerPool::over(Running& r) {
  for (auto& follower : r.job->followers()) followers_.push_back(std::move(follower));
}

bool WorkerPool::has_room_for_heavy() const {
  return std::count_if(running_.begin(), running_.end(), [](auto const& r) { return r->overstays; }) < 2 * parallel_;
}

void WorkerPool::start(std::shared_ptr<Job> job, bool heavy) {
  auto r = std::make_unique<Running>();
  r->job = std::move(job);
  r->overstays = heavy;
  if (go_on(*r)) running_.push_back(std::move(r));
  else over(*r);
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
  bool const moments_matter = longest_moment_ > 0 && (others_wait_ || has_room_for_heavy());
  for (auto const& r : running_) {
    polled.push_back({r->from.get(), POLLIN, 0});
    until = std::min({until, r->deadline, r->look_at, memory_due_});
    if (moments_matter && !r->overstays)
      until = std::min(until, r->begun + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(longest_moment_)));
  }
  for (int descriptor : others) polled.push_back({descriptor, POLLIN, 0});
  auto const left = std::chrono::ceil<std::chrono::milliseconds>(until - Clock::now()).count();
  poll(polled.data(), polled.size(), static_cast<int>(std::clamp<long long>(left, 0, 60000)));
  auto const now = Clock::now();
  if (now >= memory_due_) {
    if (memory_due_ != Clock::time_point{}) end_greedy(running_);  // what has just begun has taken nothing yet
    memory_due_ = now + kBetweenMemoryLooks;
  }
  auto overstaying = std::count_if(running_.begin(), running_.end(), [](auto const& r) { return r->overstays; });
  auto const count = running_.size();
  for (std::size_t i = 0; i < count; ++i) {
    auto& r = *running_[i];
    bool ended = false;
    if (polled[i].revents != 0) take(r, ended);
    if (!ended && now >= r.look_at) {
      double const used = processor_seconds(r);
      if (used >= r.allowed) r.deadline = now;
      else look_again(r, now, used);
    }
    ended = ended || r.verdict;
    if (!ended && now >= r.deadline) {
      r.verdict = WorkerEnd{WorkerEnd::How::out_of_time};
      ended = true;
    }
    if (ended) {
      r.job->ended(reap(r));
      if (go_on(r)) continue;
      over(r);
      r.process = -1;
    } else if (longest_moment_ > 0 && !r.overstays && others_wait_ && now - r.begun >= std::chrono::duration<double>(longest_moment_) &&
               overstaying >= 2 * parallel_) {
      r.verdict = WorkerEnd{WorkerEnd::How::crashed, SIGKILL};
      reap(r);
      broken_off_.push_back(std::move(r.job));
      r.process = -1;
    } else if (longest_moment_ > 0 && !r.overstays && now - r.begun >= std::chrono::duration<double>(longest_moment_) &&
               overstaying < 2 * parallel_) {
      r.overstays = true;
      ++overstaying;
      setpriority(PRIO_PGRP, static_cast<id_t>(r.process), kNiceness);
    }
  }
  std::erase_if(running_, [](auto const& r) { return r->process == -1; });
  begin_followers();
  std::vector<bool> readable;
  for (std::size_t i = 0; i < others.size(); ++i) readable.push_back((polled[count + i].revents & (POLLIN | POLLHUP | POLLERR)) != 0);
  return readable;
}

void run_jobs(std::function<std::shared_ptr<Job>()> const& more, int parallel, std::function<void()> const& meanwhile,
              std::chrono::milliseconds so_often) {
  WorkerPool pool(parallel);
  bool exhausted = false;
  for (;;) {
    while (!exhausted && pool.has_room()) {
      auto job = more();
      if (job) pool.start(std::move(job));
      else exhausted = true;
    }
    if (pool.idle()) return;
    pool.wait({}, meanwhile ? Clock::now() + so_often : Clock::time_point::max());
    if (meanwhile) meanwhile();
  }
}

int usual_parallel() {
  cpu_set_t set;
  if (sched_getaffinity(0, sizeof set, &set) == 0) return std::max(1, CPU_COUNT(&set));
  return static_cast<int>(std::max(1L, sysconf(_SC_NPROCESSORS_ONLN)));
}

}  // namespace layright
