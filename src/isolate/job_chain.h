// Jobs that follow each other in one place of the pool.
#pragma once
#include <deque>

#include "isolate/worker.h"

namespace layright {

/// Works through its jobs, and through what each leaves behind, one after another.
class JobChain : public Job {
 public:
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override { jobs_.front()->message(message); }
  void ended(WorkerEnd const& end) override { jobs_.front()->ended(end); }
  bool over() const { return over_; }

 protected:
  void add(std::shared_ptr<Job> job) { jobs_.push_back(std::move(job)); }
  /// Called when all jobs so far are done; may add more.
  virtual void more() {}

 private:
  std::deque<std::shared_ptr<Job>> jobs_;
  bool over_ = false;
};

}  // namespace layright
