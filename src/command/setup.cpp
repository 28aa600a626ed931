#include <CLI/CLI.hpp>
#include <memory>
#include <span>
#include <sstream>

#include "command/command.h"
#include "command/fail_at_press.h"
#include "command/look_at.h"
#include "command/target_options.h"
#include "job/job_sheet_pdf.h"
#include "report/report.h"
#include "setup/approval.h"
#include "setup/fitted_job.h"
#include "setup/ipp.h"
#include "setup/offer_list.h"
#include "setup/postscript.h"
#include "setup/ppd_words.h"
#include "setup/press_queue.h"
#include "setup/press_setup.h"
#include "setup/queue_guards.h"
#include "setup/send.h"
#include "write/output_file.h"

namespace layright {
namespace {

struct SetupWords {
  TargetWords target;
  std::string file, as = "text", output, paper;
  bool list = false, approve = false, force = false;
};

ExitStatus put(SetupWords const& w, std::string const& text) {
  if (w.output.empty() || w.output == "-")
    return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() ? ExitStatus::ready : ExitStatus::io;
  std::vector<std::filesystem::path> inputs;
  if (!w.file.empty()) inputs.emplace_back(w.file);
  auto file = OutputFile::create(w.output, w.force, inputs);
  if (!file) return fail(file.error());
  if (auto const o = file->write(std::as_bytes(std::span(text))); !o) return fail(o.error());
  if (auto const o = file->commit(); !o) return fail(o.error());
  return ExitStatus::ready;
}

/// A list that somebody else's printer made up, fit for a terminal.
std::string shown_lines(std::string const& text) {
  std::string out;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) out += shown_name(line) + "\n";
  return out;
}

/// What the press itself offers over its line.
ExitStatus list_offered(SetupWords const& w, Press const& press, Unit unit) {
  auto const service = connect_press(press);
  if (!service) return fail(service.error());
  auto const offer = (*service)->offer();
  return offer ? put(w, shown_lines(offer_list(*offer, unit))) : fail_at_press(offer.error(), **service);
}

/// Every option and choice of the press's PPD, else of its service; an asterisk stands before a default.
ExitStatus list_options(SetupWords const& w, Target const& target, Unit unit) {
  if (target.press.ppd.empty() && !press_address(target.press))
    return fail({ErrorKind::usage, target.press.name.empty()
                                       ? "no press. Name a target whose press has a PPD or an address: --target"
                                       : "the press " + target.press.name + " has no PPD and no address. Name one under ppd, queue or ipp"});
  std::string unasked;
  auto const ppd = driver_of(target.press, unasked);
  if (!ppd) return fail(ppd.error());
  if (!unasked.empty()) return fail({ErrorKind::try_again, shown_name(unasked)});
  if (!*ppd) return list_offered(w, target.press, unit);
  std::string text;
  if (auto const range = (*ppd)->custom_range()) {
    auto const size = [&](double a, double b) { return format_length(Length::points(a), unit) + " x " + format_length(Length::points(b), unit); };
    text += "custom sizes (across the feed x along it): " + size(range->min_across, range->min_along) + " to " +
            size(range->max_across, range->max_along) + "\n";
  }
  for (auto const& option : (*ppd)->options()) {
    text += option.name + (option.label.empty() || option.label == option.name ? "" : " (" + option.label + ")") + ":";
    for (auto const& choice : option.choices)
      text += std::string(" ") + (choice.is_default ? "*" : "") + choice.name +
              (choice.label.empty() || choice.label == choice.name ? "" : " (" + choice.label + ")") + ";";
    text.back() = '\n';
  }
  return put(w, text);
}

/// "finest" as the resolution that the press's PPD calls so.
Target with_finest_of(PressSetup const& setup, Target target) {
  auto const* resolution = setup.about(Topic::resolution);
  if (target.press.printer_resolution == kFinest && resolution && parse_resolution(resolution->choice).across)
    target.press.printer_resolution = resolution->choice;
  return target;
}

struct PreparedQueue : PreparedPress {
  std::optional<Offer> offer;  // where a queue was asked
  bool silent = false;         // it was asked and did not answer
};

/// The request for ipptool: as the press will take it where it answers, else as the target has it. `held`: one of the findings holds.
std::string ipp_request(Target const& target, PreparedQueue const& press, std::string const& title, Unit unit, bool& held) {
  if (press_address(target.press) && !press.silent) {
    auto const service = connect_press(target.press);
    auto const offer = press.offer ? Result<Offer>(*press.offer) : service ? (*service)->offer() : Result<Offer>(service.error());
    if (offer) {
      held = complain_of(unsupported_settings(target, *offer, unit)) || held;
      return ipptool_request(fitted_attributes(target, *offer), shown_name(title), "application/pdf");
    }
    complain("note: " + shown_name(offer.error().message) + ". What the press offers was not looked at");
  }
  if (auto const unknown = unknown_resolution(target)) complain_of({*unknown});
  return ipptool_request(target, shown_name(title), "application/pdf");
}

ExitStatus put_job_sheet(SetupWords const& w, JobSheetOptions const& options, PressSetup const& setup) {
  auto const pdf = job_sheet_pdf(options, setup);
  return pdf ? put(w, *pdf) : fail(pdf.error());
}

ExitStatus approve(Configuration const& configuration, Target const& target) {
  if (configuration.path.empty() || target.press.name.empty())
    return fail({ErrorKind::usage, "--approve is for a press of layright.toml. Name a target: --target"});
  Result<PressState> state = PressState();
  if (press_address(target.press)) {
    auto const service = connect_press(target.press);
    if (!service) return fail(service.error());
    auto const answer = ask_press(**service, target.press.name);
    if (!answer) return fail_at_press(answer.error(), **service);
    state = press_state(target.press, *answer);
  } else {
    state = press_state(target.press);
  }
  if (!state) return fail(state.error());
  auto const text = with_approval(configuration.path, target.press.name, *state);
  if (!text) return fail(text.error());
  auto file = OutputFile::create(approval_file(configuration.path), true, {});
  if (!file) return fail(file.error());
  if (auto const o = file->write(std::as_bytes(std::span(*text))); !o) return fail(o.error());
  if (auto const o = file->commit(); !o) return fail(o.error());
  std::fprintf(stdout, "approved: %s as it is now. send holds when its driver or defaults change.\n", shown_name(target.press.name).c_str());
  return ExitStatus::ready;
}

/// By the PPD that the press's table names, else by its queue's, else in IPP's keywords.
Result<PreparedQueue> prepare(Target target, std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  PreparedQueue prepared;
  std::vector<Finding> more;
  auto const address = press_address(target.press);
  if (!target.press.ppd.empty() || !address ||
      (address->find("/printers/") == std::string::npos && address->find("/classes/") == std::string::npos)) {
    auto press = prepare_press(target, ink, unit);
    if (!press) return press.error();
    static_cast<PreparedPress&>(prepared) = std::move(press).value();
    return prepared;
  }
  auto const service = connect_press(target.press);
  if (!service) return service.error();
  auto answer = ask_press(**service, target.press.name);
  if (!answer) complain("note: " + shown_name(answer.error().message) + ". The queue's driver was not looked at");
  prepared.silent = !answer;
  if (answer) more = unfit_queue(*answer);
  if (!answer || !answer->ppd) {
    prepared.setup = keyword_setup(target, ink, unit);  // it is not asked a second time
    prepared.setup.findings.insert(prepared.setup.findings.end(), more.begin(), more.end());
    if (answer) prepared.offer = std::move(answer->offer);
    return prepared;
  }
  if (auto const added = add_instance(target.press, answer->ppd.get(), more); !added) return added.error();
  auto setup = setup_with(*answer->ppd, target, ink, unit);
  if (!setup) return setup.error();
  prepared.ppd = std::move(answer->ppd);
  prepared.setup = std::move(setup).value();
  prepared.offer = std::move(answer->offer);
  prepared.setup.findings.insert(prepared.setup.findings.end(), more.begin(), more.end());
  for (auto& finding : lasting_defaults(*prepared.offer, queue_options(target, prepared.setup, prepared.ppd.get(), &*prepared.offer)))
    prepared.setup.findings.push_back(std::move(finding));
  return prepared;
}

ExitStatus run_setup(SetupWords const& w) {
  auto const resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  Unit const unit = resolved->unit;
  if (w.list) return list_options(w, resolved->target, unit);
  if (w.approve) return approve(resolved->configuration, resolved->target);
  std::optional<LookedAt> file;
  if (!w.file.empty()) {
    auto options = std::make_shared<InspectOptions>();
    options->target = resolved->target;
    options->unit = unit;
    file = look_at(w.file, options);
    if (file->status != ExitStatus::ready)
      for (auto const& line : file->reported) complain(shown_name(w.file) + ": " + shown_name(line));
    if (static_cast<int>(file->status) > static_cast<int>(ExitStatus::hold)) return file->status;
  }
  auto const target = settled(resolved->target, file);
  auto const press = prepare(target, file ? file->ink : std::nullopt, unit);
  if (!press) return fail(press.error());
  if (w.as == "ppd" && !press->ppd)
    return fail({ErrorKind::hold, "the press has no PPD. Name one under ppd or queue, or use --as text, postscript or ipp"});
  // What is held is reported, and printed all the same: a person decides with the setup before them.
  bool held = complain_of(press->setup.findings) || (file && file->status == ExitStatus::hold);
  auto const ended = [&](ExitStatus put) { return put == ExitStatus::ready && held ? ExitStatus::hold : put; };
  std::optional<JobFile> const job = file ? std::optional(file->file) : std::nullopt;
  std::string const title = job ? job->name : target.name.empty() ? "layright" : target.name;
  if (w.as == "ppd")
    return ended(put(w, option_lines(queue_options(target, press->setup, press->ppd.get(), press->offer ? &*press->offer : nullptr))));
  if (w.as == "text") return ended(put(w, operator_text(operator_list(target, press->setup, job, unit))));
  if (w.as == "ipp") {
    auto const request = ipp_request(with_finest_of(press->setup, target), *press, title, unit, held);
    return ended(put(w, request));
  }
  if (w.as == "sheet") return ended(put_job_sheet(w, {target, file, w.file, w.paper, unit}, press->setup));
  auto const made = press->ppd ? postscript_setup(target, title, *press->ppd, press->setup) : postscript_setup(target, title);
  held = complain_of(made.findings) || held;
  if (!made.job_language_end.empty()) complain("note: end the press's job language behind the job. layright lay --as postscript writes whole jobs");
  return ended(put(w, made.job_language + made.text));
}

}  // namespace

Run add_setup(CLI::App& command) {
  auto words = std::make_shared<SetupWords>();
  command.add_option("FILE", words->file, "a laid file: the setup is then for its pages");
  add_target_options(command, words->target);
  command
      .add_option("--as", words->as,
                  "text (the operator's list), ppd (option=choice lines), postscript, ipp (for ipptool) or sheet (the job sheet, PDF)")
      ->check(CLI::IsMember({"text", "ppd", "postscript", "ipp", "sheet"}))
      ->capture_default_str()
      ->type_name("FORM");
  command.add_option("-o,--output", words->output, "the file to write; else standard output")->type_name("OUT");
  command.add_option("--paper", words->paper, "a4 or letter, for the job sheet; else letter with inches, a4 with ISO sizes")->type_name("PAPER");
  command.add_flag("--list", words->list, "list every option of the press's PPD or queue, else what its address offers");
  command.add_flag("--approve", words->approve, "keep what the press's driver is now; send holds when it changes");
  command.add_flag("--force", words->force, "replace an earlier output of that name");
  return [words] { return run_setup(*words); };
}

}  // namespace layright
