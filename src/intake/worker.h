// Runs work in shut-in children, a few at a time, and tells how each ended. One parent thread, one child a task.
#pragma once
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "intake/channel.h"
#include "intake/sandbox.h"

namespace layright {

/// How a child came to its end.
struct WorkerEnd {
  enum class How { finished, crashed, out_of_time, out_of_memory, flooded, not_started } how = How::finished;
  int signal = 0;  // for crashed: the signal, or 0 when an exception ended it
};

/// What one child shall do.
struct WorkerTask {
  std::function<void(Sender const&)> work;  // runs in the child, behind the sandbox
  std::function<void()> prepare;            // runs in the child before the sandbox closes; may be empty
  std::vector<int> keep;                    // descriptors that stay open in the child
  SandboxLimits limits;
  double seconds = 10;                      // of processor time between two messages; by the clock ten times as long, for one that waits
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

/// Takes jobs from `more` (nothing: no more) and works on at most `parallel` at a time until all are over.
void run_jobs(std::function<std::shared_ptr<Job>()> const& more, int parallel);

/// One process a core.
int usual_parallel();

}  // namespace layright
