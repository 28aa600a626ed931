#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <memory>

#include "base/hex.h"
#include "base/status_line.h"
#include "check/check.h"
#include "command/command.h"
#include "command/fail_at_press.h"
#include "command/look_at.h"
#include "command/target_options.h"
#include "report/report.h"
#include "setup/approval.h"
#include "setup/press_queue.h"
#include "setup/send.h"
#include "setup/send_request.h"
#include "setup/state_words.h"
#include "watch/watch_start.h"

namespace layright {
namespace {

struct SendWords {
  TargetWords target;
  SelectionWords selection;
  ReadingWords reading;
  std::string file;
  int copies = 0, page = 0;
  double wait = 1800;
  bool as_is = false, dry_run = false, again = false;
};

void print_dry(SendRequest const& request, std::string const& address) {
  std::fprintf(stdout, "would send to %s: %s\n", shown_name(address).c_str(), shown_name(request.job_name).c_str());
  if (request.options.empty()) {
    std::fputs(ipptool_request(request.attributes, shown_name(request.job_name), request.document_format).c_str(), stdout);
    return;
  }
  for (auto const& [name, value] : request.options) std::fprintf(stdout, "%s=%s\n", name.c_str(), value.c_str());
}

ExitStatus report_end(SentJob const& job, int asked, bool counts) {
  if (!job.lost.empty()) {
    complain(shown_name(job.lost));
    return ExitStatus::not_ended;
  }
  std::fprintf(stdout, "%s\n", shown_name(job_words(job)).c_str());
  auto const sheets = sheet_trouble(job, asked, counts);
  if (!sheets.empty()) complain("job " + std::to_string(job.id) + ": " + sheets);
  bool const spoilt = !sheets.empty() || std::find(job.reasons.begin(), job.reasons.end(), "job-completed-with-errors") != job.reasons.end();
  switch (job.state) {
    case JobState::completed: return spoilt ? ExitStatus::hold : ExitStatus::ready;
    case JobState::held: complain("release or cancel the job at the press or in its queue"); return ExitStatus::hold;
    case JobState::cancelled: return ExitStatus::hold;
    case JobState::aborted: return ExitStatus::io;
    default:
      complain("job " + std::to_string(job.id) + " has not ended yet: the press has it. Look at the press; do not send it again");
      return ExitStatus::not_ended;
  }
}

/// "job 12: printing, 2 of 5 sheets, 34 s, 50 s left"
std::string waiting_words(JobStatus const& now, int sheets, double seconds) {
  auto text = "job " + std::to_string(now.id) + ": " + std::string(word(now.state));
  int const out = now.sheets.value_or(0);
  if (now.sheets) text += ", " + std::to_string(out) + " of " + std::to_string(sheets) + (sheets == 1 ? " sheet" : " sheets");
  text += ", " + span_words(seconds);
  return out > 0 && out < sheets ? text + ", " + span_words(seconds / out * (sheets - out)) + " left" : text;
}

/// Holds where the press is no longer what was approved.
Result<bool> changed(ResolvedTarget const& resolved, PressAnswer const& answer) {
  if (resolved.configuration.path.empty() || !std::filesystem::exists(approval_file(resolved.configuration.path))) return false;
  auto const state = press_state(resolved.target.press, answer);
  if (!state) return state.error();
  auto const changes = changes_since_approval(resolved.configuration.path, resolved.target.press.name, *state);
  if (!changes) return changes.error();
  for (auto const& change : *changes) complain("hold: since the setup was approved, " + shown_name(change));
  if (!changes->empty()) complain("look at the press's driver and defaults, then: layright setup --approve");
  return !changes->empty();
}

/// What all sendings of these pages of this file have in their jobs' names.
std::string file_mark(std::string const& sha256, int page) {
  return "layright " + sha256.substr(0, 12) + (page > 0 ? "." + std::to_string(page) : "") + "-";
}

/// Whether an earlier sending of the same pages still waits there; told.
bool waits_already(PrintService& service, std::string const& mark) {
  auto const jobs = service.waiting_jobs("[" + mark);
  if (!jobs) {
    complain("note: cannot see if this file waits there already: " + shown_name(jobs.error().message));
    return false;
  }
  for (auto const& job : *jobs) {
    auto const status = service.job(job.id);  // some presses list jobs that have ended
    if (status && status->state != JobState::held && has_ended(status->state)) continue;
    complain("nothing was sent: this file waits there already, as job " + std::to_string(job.id) + " (" + shown_name(job.name) +
             "). Let it print, cancel it, or say --again");
    return true;
  }
  return false;
}

/// What the press has to say ("press.loaded") is no check of the file; a person may decide on it as well. A misspelt one accepts nothing.
std::vector<std::string> without_press(std::vector<std::string> accepted) {
  std::erase_if(accepted, [](std::string const& id) { return id.starts_with("press.") && !find_check(id); });
  return accepted;
}

/// Holds of the setup that a person has decided on are none.
void accept(std::vector<Finding>& findings, std::vector<std::string> const& accepted) {
  std::erase_if(findings, [&](Finding const& f) { return std::find(accepted.begin(), accepted.end(), f.check) != accepted.end(); });
}

ExitStatus run_send(SendWords const& w) {
  auto resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  if (auto const shut_in = demand_sandbox(resolved->configuration, [](std::string const&) {}); !shut_in) return fail(shut_in.error());
  auto const service = connect_press(resolved->target.press);
  if (!service) return fail(service.error());
  std::string const address = *press_address(resolved->target.press);
  if (w.copies > 0) resolved->target.copies = w.copies;
  SelectionWords selection = w.selection;
  selection.accept = without_press(w.selection.accept);
  auto options = resolve_options(*resolved, {}, w.reading, selection);
  if (!options) return fail(options.error());
  auto const file = look_at(w.file, std::make_shared<InspectOptions const>(std::move(*options)));
  for (auto const& line : file.reported) complain(shown_name(w.file) + ": " + shown_name(line));
  if (static_cast<int>(file.status) > static_cast<int>(ExitStatus::hold) || (file.status != ExitStatus::ready && !w.as_is)) {
    complain(shown_name(w.file) + " is not ready; nothing was sent. Lay it first, or say --as-is");
    return file.status;
  }
  if (w.page > file.file.pages)
    return fail({ErrorKind::hold, shown_name(w.file) + " has no page " + std::to_string(w.page) + "; it has " + std::to_string(file.file.pages)});
  auto const answer = ask_press(**service, resolved->target.press.name);
  if (!answer) return fail_at_press(answer.error(), **service);
  auto const different = changed(*resolved, *answer);
  if (!different) return fail(different.error());
  auto const target = settled(resolved->target, file);
  std::string const mark = file_mark(file.file.sha256, w.page);
  auto asked = ask_for(target, *answer, w.file, job_name(shown_name(file.file.name), mark + random_hexadecimal(4)), file.ink, resolved->unit);
  if (!asked) return fail(asked.error());
  if (w.page > 0) ask_for_page(*asked, w.page);
  accept(asked->findings, w.selection.accept);
  bool const held = complain_of(asked->findings);
  if ((held || *different) && !w.as_is) {
    complain("nothing was sent");
    return ExitStatus::hold;
  }
  if (w.dry_run) return print_dry(asked->request, address), ExitStatus::ready;
  if (!w.again && waits_already(**service, mark)) return ExitStatus::hold;
  SendOptions send;
  send.request = asked->request;
  send.wait_seconds = w.wait;
  StatusLine line;
  send.progress = [&](JobStatus const& now, std::vector<std::string> const& troubles) {
    line.wipe();
    complain(shown_name(job_words(now, troubles)));
  };
  int const sheets = (w.page > 0 ? 1 : file.file.pages) * target.copies;
  send.waiting = [&](JobStatus const& now) {
    if (!has_ended(now.state) && line.due()) line.put(waiting_words(now, sheets, line.seconds()));
  };
  line.put("sending " + shown_name(file.file.name) + " to the press");
  auto const end = send_job(**service, send);
  line.wipe();
  return end ? report_end(*end, sheets, asked->counts_sheets) : fail_at_press(end.error(), **service);
}

}  // namespace

Run add_send(CLI::App& command) {
  auto words = std::make_shared<SendWords>();
  command.add_option("FILE", words->file, "the laid file")->required();
  add_target_options(command, words->target);
  add_reading_options(command, words->reading);
  command.add_option("--accept", words->selection.accept, "let these holds pass, also those of the press, such as press.loaded")
      ->delimiter(',')
      ->allow_extra_args(false)
      ->type_name("CHECK,…");
  command.add_option("--password-file", words->selection.password_file, "a file whose first line is the password")->type_name("FILE");
  command.add_option("--copies", words->copies, "how many; else as the target says")->type_name("N")->check(CLI::Range(1, 9999));
  command.add_option("--page", words->page, "one page of the file only")->type_name("N")->check(CLI::Range(1, 1000000));
  command.add_option("--wait", words->wait, "how many seconds to stay with the job")
      ->type_name("SECONDS")
      ->check(CLI::Range(0.0, 86400.0))
      ->capture_default_str();
  command.add_flag("--as-is", words->as_is, "send it although it is not ready, or the press lacks something");
  command.add_flag("--again", words->again, "send it although the same file waits there already");
  command.add_flag("--dry-run", words->dry_run, "show what would be sent");
  return [words] { return run_send(*words); };
}

}  // namespace layright
