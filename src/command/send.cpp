#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <memory>
#include <random>

#include "command/command.h"
#include "command/look_at.h"
#include "command/target_options.h"
#include "report/report.h"
#include "setup/approval.h"
#include "setup/send.h"
#include "setup/send_request.h"
#include "setup/state_words.h"

namespace layright {
namespace {

struct SendWords {
  TargetWords target;
  SelectionWords selection;
  ReadingWords reading;
  std::string file;
  int copies = 0, page = 0;
  double wait = 1800;
  bool as_is = false, dry_run = false;
};

std::string fresh_mark() {
  std::random_device random;
  static constexpr char kHex[] = "0123456789abcdef";
  std::string mark = "layright ";
  for (int i = 0; i < 8; ++i) mark += kHex[random() & 15];
  return mark;
}

void print_dry(SendRequest const& request, std::string const& address) {
  std::fprintf(stdout, "would send to %s: %s\n", shown_name(address).c_str(), shown_name(request.job_name).c_str());
  if (request.options.empty()) {
    std::fputs(ipptool_request(request.attributes, shown_name(request.job_name), request.document_format).c_str(), stdout);
    return;
  }
  for (auto const& [name, value] : request.options) std::fprintf(stdout, "%s=%s\n", name.c_str(), value.c_str());
}

ExitStatus tell_end(JobStatus const& status) {
  std::fprintf(stdout, "%s\n", shown_name(job_words(status)).c_str());
  bool const spoilt = std::find(status.reasons.begin(), status.reasons.end(), "job-completed-with-errors") != status.reasons.end();
  switch (status.state) {
    case JobState::completed: return spoilt ? ExitStatus::hold : ExitStatus::ready;
    case JobState::held: complain("release the job at the press or in its queue, or cancel it there"); return ExitStatus::hold;
    case JobState::cancelled: return ExitStatus::hold;
    case JobState::aborted: return ExitStatus::io;
    default: complain("the job has not ended yet; look at the press"); return ExitStatus::try_again;
  }
}

/// Holds where the press is no longer what was approved.
Result<bool> changed(ResolvedTarget const& resolved) {
  if (resolved.configuration.path.empty() || !std::filesystem::exists(approval_file(resolved.configuration.path))) return false;
  auto const state = press_state(resolved.target.press);
  if (!state) return state.error();
  auto const changes = changes_since_approval(resolved.configuration.path, resolved.target.press.name, *state);
  if (!changes) return changes.error();
  for (auto const& change : *changes) complain("hold: since the setup was approved, " + shown_name(change));
  if (!changes->empty()) complain("look at the press's driver and defaults, then approve again: layright setup --approve");
  return !changes->empty();
}

ExitStatus run_send(SendWords const& w) {
  auto resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  Press const& press = resolved->target.press;
  if (press.ipp.empty())
    return fail({ErrorKind::usage, "the target's press has no address to send to: give it ipp = \"ipp://…\" in its table and name a target with --target"});
  if (w.copies > 0) resolved->target.copies = w.copies;
  auto wish = resolve_wish(*resolved, {}, w.reading, w.selection);
  if (!wish) return fail(wish.error());
  auto const file = look_at(w.file, std::make_shared<InspectWish const>(std::move(*wish)));
  for (auto const& line : file.told) complain(shown_name(w.file) + ": " + shown_name(line));
  if (static_cast<int>(file.status) > static_cast<int>(ExitStatus::hold) || (file.status != ExitStatus::ready && !w.as_is)) {
    complain(shown_name(w.file) + " is not ready for this target, so nothing was sent; lay it first, or send it --as-is");
    return file.status;
  }
  if (w.page > file.file.pages) return fail({ErrorKind::hold, shown_name(w.file) + " has no page " + std::to_string(w.page) + "; it has " + std::to_string(file.file.pages)});
  auto const different = changed(*resolved);
  if (!different) return fail(different.error());
  auto const target = settled(resolved->target, file);
  auto const service = PrintService::connect(press.ipp);
  if (!service) return fail(service.error());
  auto const offer = (*service)->offer();
  if (!offer) return fail(offer.error());
  auto asked = ask_for(target, *offer, w.file, job_name(shown_name(file.file.name), fresh_mark()), file.ink, resolved->unit);
  if (!asked) return fail(asked.error());
  if (w.page > 0) ask_for_page(*asked, w.page);
  if (asked->queue_without_ppd)
    complain("note: this is a queue without a PPD; such queues may drop \"print-scaling none\" and choose margins of their own: give the printer's own address where it has one");
  bool const held = complain_of(asked->findings);
  if ((held || *different) && !w.as_is) {
    complain("nothing was sent");
    return ExitStatus::hold;
  }
  if (w.dry_run) return print_dry(asked->request, press.ipp), ExitStatus::ready;
  SendWish send{press.ipp, asked->request, 4, w.wait, [](JobStatus const& now, std::vector<std::string> const& troubles) {
                  complain(shown_name(job_words(now, troubles)));
                }};
  auto const end = send_job(send);
  return end ? tell_end(*end) : fail(end.error());
}

}  // namespace

Run add_send(CLI::App& command) {
  auto words = std::make_shared<SendWords>();
  command.add_option("FILE", words->file, "the laid file")->required();
  add_target_options(command, words->target);
  add_reading_options(command, words->reading);
  command.add_option("--accept", words->selection.accept, "checks whose hold a person has decided on")->delimiter(',')->type_name("CHECK,…");
  command.add_option("--password-file", words->selection.password_file, "a file whose first line is the password")->type_name("FILE");
  command.add_option("--copies", words->copies, "how many; else as the target says")->type_name("N")->check(CLI::Range(1, 9999));
  command.add_option("--page", words->page, "one page of the file only")->type_name("N")->check(CLI::Range(1, 1000000));
  command.add_option("--wait", words->wait, "how many seconds to stay with the job")->type_name("SECONDS")->check(CLI::Range(0.0, 86400.0))->capture_default_str();
  command.add_flag("--as-is", words->as_is, "send it although it is not ready, or the press does not offer all that is asked");
  command.add_flag("--dry-run", words->dry_run, "show what would be sent");
  return [words] { return run_send(*words); };
}

}  // namespace layright
