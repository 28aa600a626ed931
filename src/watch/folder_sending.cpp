// How an intake sends what is ready to its press, one job at a time.
#include <algorithm>
#include <utility>

#include "watch/folder_intake.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

using namespace std::chrono_literals;

constexpr auto kPressAgain = 30s;      // before a press that could not be reached is tried again
constexpr double kWaitInOneRun = 300;  // seconds to stay with a sent job in a run that ends

/// What the ledger calls the end of a sending.
char const* send_word(SendJob const& job) {
  if (job.end == SendJob::End::later) return "sending";
  if (job.end == SendJob::End::refused) return "refused";
  return job.sheets_off < 0 ? "film missing" : job.sheets_off > 0 ? "film spoiled" : "sent";
}

}  // namespace

std::shared_ptr<SendJob> FolderIntake::next_sending(SteadyTime now) {
  if (sending_ || to_send_.empty() || pause_until_ || (send_after_ && now < *send_after_)) return nullptr;
  auto begun = begin_sending(to_send_.front());
  if (!begun) {
    trouble(begun.error(), now);
    return nullptr;
  }
  if (*begun) sending_ = true;
  else to_send_.pop_front();
  return *begun;
}

Result<std::shared_ptr<SendJob>> FolderIntake::begin_sending(long long id) {
  auto found = place_.ledger->find(id);
  if (!found) return found.error();
  auto const outputs = place_.ledger->outputs_of(id);
  if (!outputs) return outputs.error();
  auto const laid = std::find_if(outputs->rbegin(), outputs->rend(), [](LedgerOutput const& o) { return o.kind == "pdf" && o.there; });
  bool const ours = *found && (!place_.ledger->is_shared() || place_.ledger->is_mine(**found));
  if (!ours || laid == outputs->rend() || (*found)->state != LedgerState::ready) return std::shared_ptr<SendJob>();
  SendJobOptions options;
  options.entry = **found;
  auto const inspect = options_for(options.entry);
  if (!inspect) return inspect.error();
  options.target = (*inspect)->target;
  options.unit = (*inspect)->unit;
  if (options.target.render == Render::automatic)
    options.target.render = options.entry.render == word(Render::pictures) ? Render::pictures : Render::graphics;
  options.may_be_there = options.entry.send == "sending";
  options.laid = laid->path;
  options.sheets = laid->pages * options.target.copies;
  options.configuration = place_.configuration->path;
  if (place_.once) options.wait_seconds = kWaitInOneRun;
  options.entry.send = "sending";
  options.entry.send_name = send_name(options.entry, *laid);
  if (auto const written = place_.ledger->change([&](LedgerChange& change) { change.update(options.entry); }); !written) return written.error();
  return std::make_shared<SendJob>(std::move(options));
}

void FolderIntake::sent(SendJob& job, SteadyTime now) {
  sending_ = false;
  LedgerEntry entry;
  bool const over = job.end != SendJob::End::later;
  auto const written = place_.ledger->change([&](LedgerChange& change) {
    // Read afresh: a person may have decided something about it meanwhile.
    auto const found = place_.ledger->find(job.entry().id);
    entry = found && *found ? **found : job.entry();
    entry.token = job.entry().token;
    entry.send = send_word(job);
    entry.send_reported = job.reported;
    entry.press_job = job.press_job;
    change.update(entry);
    if (over) change.report({entry.id, now_ms(), "watch", entry.send, job.reported});
    if (job.sheets_off > 0) change.spoil(entry.id, now_ms(), "watch", job.sheets_off, "the press put out more than was asked for");
  });
  if (!written) {
    if (place_.ledger->is_shared() && !to_send_.empty()) to_send_.pop_front();  // the ledger tells whose it is
    return trouble(written.error(), now);
  }
  bool const well = job.end == SendJob::End::sent && job.sheets_off == 0;
  place_.log->entry(well ? LogLevel::info : LogLevel::warning, over ? entry.send : "not sent yet", entry, job.reported);
  if (over) to_send_.pop_front();
  if (over && !well) ++tally_.not_sent;
  if (over) return send_after_.reset();
  send_after_ = now + kPressAgain;
  leave_sendings_to_others();
  if (place_.once) lasting_ = Error{ErrorKind::try_again, job.reported}, to_send_.clear();
}

/// Another desk may reach the press.
void FolderIntake::leave_sendings_to_others() {
  if (!place_.ledger->is_shared()) return;
  for (auto const id : std::exchange(to_send_, {}))
    if (auto const found = place_.ledger->find(id); found && *found && place_.ledger->is_mine(**found)) (void)place_.ledger->let_go(**found);
}

}  // namespace layright
