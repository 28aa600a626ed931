// Runs work in shut-in children, a few at a time, and tells how each ended. One parent thread, one child a task.
#pragma once
#include <chrono>
#include <deque>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "isolate/channel.h"
#include "isolate/input_file.h"
#include "isolate/sandbox.h"

namespace layright {

/// How a child came to its end.
struct WorkerEnd {
  enum class How { finished, crashed, out_of_time, out_of_memory, flooded, not_started } how = How::finished;
  int signal = 0;       // for crashed: the signal, or 0 when an exception ended it
  double seconds = 0;   // of processor time, with what it had others do
  bool in_all = false;  // for out_of_time: of what the task may take in all, not of what it may take between two messages
};

/// What one child is to do.
struct WorkerTask {
  std::function<void(Sender const&)> work;      // runs in the child, behind the sandbox
  std::function<void()> prepare;                // runs in the child before the sandbox closes; may be empty
  std::vector<int> keep;                        // descriptors that stay open in the child
  bool shut_in = true;                          // false: our own work on our own data; no sandbox closes
  SandboxLimits limits;                         // its memory: also of all that it begins, and of what it writes that lies in memory
  double seconds = 10;                          // of processor time between two messages; by the clock ten times as long, for one that waits
  double seconds_in_all = 0;                    // likewise, from its beginning to its end; 0: no end
  bool waiting_counts = false;                  // of seconds_in_all: a quarter of the time by the clock counts, where that is more
  std::shared_ptr<InputFile const> input = {};  // the customer's file, mapped in the child only
};

/// Several tasks in a row about one thing: a file, which goes on in a new child after its child died.
class Job {
 public:
  virtual ~Job() = default;
  /// The next task, or nothing when the job is over.
  virtual std::optional<WorkerTask> next() = 0;
  virtual void message(Message const& message) = 0;
  virtual void ended(WorkerEnd const& end) = 0;
  /// Jobs that this one leaves behind when its last task is over, to be worked on side by side before any new one.
  virtual std::vector<std::shared_ptr<Job>> followers() { return {}; }
};

/// Children at work. A job that works longer than a moment gives its place back, so that a heavy file does not keep small ones waiting; it
/// goes on beside them, at a lower priority. Where too many do that already and others wait, it is broken off, to begin anew later.
class WorkerPool {
 public:
  /// `parallel` places; `longest_moment`: seconds after which a job gives its place back (0: never), for at most twice as many jobs as there
  /// are places.
  explicit WorkerPool(int parallel, double longest_moment = 0);
  ~WorkerPool();  // ends all children
  WorkerPool(WorkerPool const&) = delete;
  WorkerPool& operator=(WorkerPool const&) = delete;

  bool has_room() const;
  bool idle() const { return running_.empty() && followers_.empty(); }
  std::size_t size() const { return running_.size(); }
  /// What can be read when a child has something to tell: for one that waits for several pools.
  std::vector<int> descriptors() const;
  /// Begins at once. A job without a task is over before this returns. `heavy`: it takes no place, and goes on beside the others from its beginning;
  /// requires has_room_for_heavy().
  void start(std::shared_ptr<Job> job, bool heavy = false);
  bool has_room_for_heavy() const;
  /// Whether somebody waits for a place.
  void others_wait(bool wait) { others_wait_ = wait; }
  /// Jobs that were broken off for others; nothing was told to them, and they are of no use any more.
  std::vector<std::shared_ptr<Job>> take_broken_off() { return std::exchange(broken_off_, {}); }
  /// Waits until a child has something to tell, or one of `others` (descriptors) can be read, or `until`; tells the jobs. True for each of
  /// `others` that can be read.
  std::vector<bool> wait(std::span<int const> others, std::chrono::steady_clock::time_point until);

 private:
  struct Running;
  bool go_on(Running& running);
  void over(Running& running);
  void begin_followers();
  std::vector<std::unique_ptr<Running>> running_;
  std::deque<std::shared_ptr<Job>> followers_;
  std::vector<std::shared_ptr<Job>> broken_off_;
  bool others_wait_ = false;
  int parallel_;
  double longest_moment_;
  std::chrono::steady_clock::time_point memory_due_{};  // when to see what they take
};

/// Takes jobs from `more` (nothing: no more) and works on at most `parallel` at a time until all are over. `meanwhile`, where there is one, is called
/// at least so often.
void run_jobs(std::function<std::shared_ptr<Job>()> const& more, int parallel, std::function<void()> const& meanwhile = {},
              std::chrono::milliseconds so_often = {});

/// One process a core.
int usual_parallel();

}  // namespace layright
