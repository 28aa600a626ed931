#include "watch/send_job.h"

#include <algorithm>
#include <utility>

#include "job/messages.h"
#include "report/report.h"
#include "setup/approval.h"
#include "setup/press_queue.h"
#include "setup/send.h"
#include "setup/send_request.h"
#include "setup/state_words.h"

namespace layright {
namespace {

/// The press says that it went wrong although the job has come to its end (RFC 8011, 5.3.8).
bool spoilt(JobStatus const& status) {
  return std::find(status.reasons.begin(), status.reasons.end(), "job-completed-with-errors") != status.reasons.end();
}

/// What keeps it from being sent although the press can be reached; empty when nothing does.
Result<std::string> objection(SendJobOptions const& options, PressAnswer const& answer, SendAsked const& asked) {
  for (auto const& finding : asked.findings)
    if (finding.level == Level::hold) return finding.message;
  std::error_code ignored;
  if (options.configuration.empty() || !std::filesystem::exists(approval_file(options.configuration), ignored)) return std::string();
  auto const state = press_state(options.target.press, answer);
  if (!state) return state.error();
  auto const changes = changes_since_approval(options.configuration, options.target.press.name, *state);
  if (!changes) return changes.error();
  return changes->empty() ? std::string() : "since the setup was approved, " + changes->front();
}

Result<SentJob> send(SendJobOptions const& options, Sender const& sender, bool& counts) {
  auto const& press = options.target.press;
  if (!press_address(press)) return Error{ErrorKind::hold, "the press " + press.name + " has no address to send to"};
  auto const service = connect_press(press);
  if (!service) return service.error();
  auto const answer = ask_press(**service, press.name);
  if (!answer) return answer.error();
  auto const asked = ask_for(options.target, *answer, options.laid, options.entry.send_name, std::nullopt, options.unit);
  if (!asked) return asked.error();
  auto const against = objection(options, *answer, *asked);
  if (!against) return against.error();
  if (!against->empty()) return Error{ErrorKind::hold, *against};
  counts = asked->counts_sheets;
  SendOptions send;
  send.request = asked->request;
  send.may_be_there = options.may_be_there;
  send.wait_seconds = options.wait_seconds;
  send.progress = [&](JobStatus const& now, std::vector<std::string> const& troubles) {
    send_message(sender, message::Printing{now.id, job_words(now, troubles)});
  };
  return send_job(**service, send);
}

}  // namespace

std::string send_name(LedgerEntry const& entry, LedgerOutput const& laid) {
  return job_name(shown_name(std::filesystem::path(laid.path).filename().native()),
                  "layright " + std::to_string(entry.id) + "-" + std::to_string(entry.run) + " " + laid.digest.substr(0, 8));
}

std::optional<WorkerTask> SendJob::next() {
  if (std::exchange(started_, true)) return std::nullopt;
  WorkerTask task;
  task.shut_in = false;
  task.seconds = 60 + options_.wait_seconds;
  task.work = [this](Sender const& sender) { work(sender); };
  return task;
}

void SendJob::work(Sender const& sender) const {
  bool counts = true;
  auto const status = send(options_, sender, counts);
  using How = message::Sent::How;
  if (status && !status->lost.empty()) return send_message(sender, message::Sent{How::later, status->id, 0, status->lost});
  bool const well =
      status && status->state != JobState::aborted && status->state != JobState::cancelled && status->state != JobState::held && !spoilt(*status);
  bool const counted = status && options_.sheets > 0;
  auto const sheets = counted ? sheet_trouble(*status, options_.sheets, counts) : std::string();
  int const off = counted ? layright::sheets_off(*status, options_.sheets, counts) : 0;
  if (status)
    send_message(sender, message::Sent{well ? How::sent : How::refused, status->id, off, job_words(*status) + (sheets.empty() ? "" : "; " + sheets)});
  else send_message(sender, message::Sent{status.error().kind == ErrorKind::try_again ? How::later : How::refused, 0, 0, status.error().message});
}

void SendJob::message(Message const& message) {
  if (auto now = received<message::Printing>(message)) {
    reported = std::move(now->words);
    if (now->job > 0) press_job = now->job;
    sheets_off = 0;
    end = End::later;
  } else if (auto last = received<message::Sent>(message)) {
    using How = message::Sent::How;
    reported = std::move(last->words);
    if (last->job > 0) press_job = last->job;
    sheets_off = last->sheets_off;
    end = last->how == How::sent ? End::sent : last->how == How::refused ? End::refused : End::later;
  }
}

}  // namespace layright
