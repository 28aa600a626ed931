#include "desk/decision_runner.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include "watch/ledger.h"
#include "watch/ledger_lock.h"

namespace layright {
namespace {

constexpr auto kLookAgain = std::chrono::seconds(1);  // whether the watcher that had it still runs

}  // namespace

DecisionRunner::DecisionRunner(std::filesystem::path ledger, std::function<void()> run)
    : ledger_(std::move(ledger)), run_(std::move(run)), thread_([this] { work(); }) {}

DecisionRunner::~DecisionRunner() {
  {
    std::lock_guard const lock(mutex_);
    end_ = true;
  }
  asked_.notify_all();
  thread_.join();
}

void DecisionRunner::look(bool once) {
  std::lock_guard const lock(mutex_);
  once_ = once_ || once;
  look_ = true;
  asked_.notify_all();
}

bool DecisionRunner::is_ours(bool& waits) const {
  auto const ledger = Ledger::open(ledger_, false);
  auto const open = ledger ? ledger->unfinished() : Result<std::vector<LedgerEntry>>(ledger.error());
  waits = open && std::ranges::any_of(*open, [](LedgerEntry const& e) { return !e.decision.empty(); });
  return waits && lock_holder(ledger_) == 0;
}

void DecisionRunner::work() {
  std::unique_lock lock(mutex_);
  while (true) {
    asked_.wait(lock, [this] { return look_ || end_; });
    if (end_) return;
    look_ = false;
    bool const once = std::exchange(once_, false);
    lock.unlock();
    bool waits = false;
    if (is_ours(waits) || (once && lock_holder(ledger_) == 0)) run_();
    lock.lock();
    // A watcher that has it may be killed before it is done, and a run may fail: looked at again until nothing waits.
    if (!waits) continue;
    look_ = true;
    asked_.wait_for(lock, kLookAgain, [this] { return end_; });
  }
}

}  // namespace layright
