// Has done what persons decide while no watcher runs that does it.
#pragma once
#include <condition_variable>
#include <filesystem>
#include <functional>
#include <mutex>
#include <thread>

namespace layright {

class DecisionRunner {
 public:
  /// `run` does what waits in the ledger, and returns when it is done.
  DecisionRunner(std::filesystem::path ledger, std::function<void()> run);
  ~DecisionRunner();
  DecisionRunner(DecisionRunner const&) = delete;
  DecisionRunner& operator=(DecisionRunner const&) = delete;
  /// Something was decided; `once`: also what no decision tells, such as a job for the press.
  void look(bool once = false);

 private:
  void work();
  /// Whether something that was decided waits and nobody is there to do it. `waits`: the first alone.
  bool is_ours(bool& waits) const;
  std::filesystem::path const ledger_;
  std::function<void()> const run_;
  std::mutex mutex_;
  std::condition_variable asked_;
  bool look_ = false, once_ = false, end_ = false;
  std::thread thread_;
};

}  // namespace layright
