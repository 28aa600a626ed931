// What an intake goes on with that stands in the ledger: what a death broke off, what persons decided, what other desks left.
#include <algorithm>

#include "watch/decision.h"
#include "watch/folder_intake.h"

namespace layright {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

constexpr int kMostInterrupted = 20;  // deaths of the watcher with the same arrival in hand

}  // namespace

void FolderIntake::trouble(Error const& error, SteadyTime now, bool overtaken) {
  if (overtaken) {  // no trouble: what is still this desk's is looked for again
    look_into_ledger_ = true;
    return place_.log->report(LogLevel::info, intake().name, {}, error.message);
  }
  auto const usual = place_.once ? 50ms : 1000ms;
  pause_until_ = now + std::min<std::chrono::milliseconds>(usual * (1 << std::min(troubles_, 5)), 30s);
  if (++troubles_ >= kTroublesInOneRun && place_.once) lasting_ = error;
  look_into_ledger_ = true;
  place_.log->report(LogLevel::error, intake().name, {}, error.message + (place_.once ? "" : "; trying again"));
}

void FolderIntake::look_for_work(SteadyTime now) {
  auto const waits = place_.ledger->work_waits(intake().name, may_send(now));
  if (!waits) return trouble(waits.error(), now);
  if (*waits) look_into_ledger_ = true;
  if (auto desks = place_.ledger->desks()) arrivals_.share_with(place_.ledger->desk(), std::move(*desks));
}

void FolderIntake::go_on_with_ledger(SteadyTime now) {
  look_into_ledger_ = false;
  auto const unfinished = place_.ledger->take_unfinished(intake().name, may_send(now));
  if (!unfinished) return trouble(unfinished.error(), now);
  more_in_ledger_ = std::count_if(unfinished->begin(), unfinished->end(), [](LedgerEntry const& e) { return e.taken_over; }) > 0;
  unresolved_.clear();
  for (auto const& each : resuming_) unresolved_.insert(each.entry.place);
  std::optional<Error> failed;
  for (auto const& entry : *unfinished) {
    if (in_hand_.contains(entry.id)) continue;
    bool const first_look = place_.ledger->is_shared() ? entry.taken_over : first_look_;
    bool const beside = resumes_beside(entry);
    auto const gone_on = beside ? done() : go_on_with(entry, now, first_look);
    if (beside || !gone_on) unresolved_.insert(entry.place);
    if (!gone_on && !reads_beside(entry, first_look)) failed = gone_on.error();
  }
  first_look_ = false;
  if (failed) trouble(*failed, now);
}

Outcome FolderIntake::go_on_with(LedgerEntry entry, SteadyTime now, bool first_look, OutputFile* copy) {
  auto const was = entry.state;
  if (auto const resumed = custody_.resume(entry, copy); !resumed) return resumed;
  if (entry.id == 0) return done();
  if (was != entry.state && entry.state != LedgerState::taken) at_rest_now(entry);
  if (first_look && entry.state == LedgerState::taken) {
    ++entry.interrupted;
    if (entry.interrupted >= kMostInterrupted)
      return hold(entry, "the watcher ended " + std::to_string(entry.interrupted) + " times with this file in hand");
    if (auto const written = place_.ledger->change([&](LedgerChange& change) { change.update(entry); }); !written) return written;
  }
  if (!entry.decision.empty() && entry.state != LedgerState::taken)
    if (auto const decided = do_decision(entry); !decided) return decided;
  if (entry.state == LedgerState::ready && (entry.send == "wanted" || entry.send == "sending") &&
      std::find(to_send_.begin(), to_send_.end(), entry.id) == to_send_.end())
    to_send_.push_back(entry.id);
  if (entry.state == LedgerState::taken) queue(std::move(entry), now);
  return done();
}

Outcome FolderIntake::do_decision(LedgerEntry& entry) {
  auto const decision = parse_decision(entry.decision);
  entry.tries = entry.interrupted = 0;
  if (decision && decision->kind == Decision::Kind::hold) return hold(entry, decision->why);
  if (decision && decision->kind == Decision::Kind::discard && entry.state == LedgerState::waiting) {  // its original lies where it stays
    entry.decision.clear();
    entry.state = LedgerState::discarded;
    auto const written = place_.ledger->change([&](LedgerChange& change) { change.update(entry); });
    if (written) at_rest_now(entry);
    return written;
  }
  if (decision && decision->kind == Decision::Kind::discard) {
    if (entry.is_batch())
      if (auto const held = hold_members(entry, "job " + std::to_string(entry.id) + ", its sheet, was discarded: " + decision->why); !held)
        return held;
    entry.decision.clear();
    auto const moved = move_on(entry, LedgerState::discarded, {});
    if (!moved) return moved.error();
    if (*moved) at_rest_now(entry);
    return done();
  }
  if (decision && !decision->target.empty()) entry.target = decision->target;
  if (decision && fs::path(entry.place).parent_path() == intake().held) {
    auto const moved = move_on(entry, LedgerState::taken, {});
    if (!moved) return moved.error();
    if (*moved && entry.state != LedgerState::taken) at_rest_now(entry);
    return done();
  }
  if (decision) entry.state = LedgerState::taken;
  else entry.decision.clear();
  return place_.ledger->change([&](LedgerChange& change) { change.update(entry); });
}

}  // namespace layright
