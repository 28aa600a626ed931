#include "isolate/job_chain.h"

namespace layright {

std::optional<WorkerTask> JobChain::next() {
  while (!over_) {
    if (jobs_.empty()) more();
    if (jobs_.empty()) {
      over_ = true;
      break;
    }
    auto const current = jobs_.front();
    if (auto task = current->next()) return task;
    jobs_.pop_front();
    auto left = current->followers();
    jobs_.insert(jobs_.begin(), left.begin(), left.end());
  }
  return std::nullopt;
}

}  // namespace layright
