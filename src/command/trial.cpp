#include <CLI/CLI.hpp>
#include <memory>
#include <span>

#include "command/command.h"
#include "command/look_at.h"
#include "command/target_options.h"
#include "report/report.h"
#include "report/trial_sheet.h"
#include "setup/setting.h"
#include "write/output_file.h"

namespace layright {
namespace {

struct TrialWords {
  TargetWords target;
  std::string output, measured;
  bool force = false;
};

ExitStatus write_file(std::filesystem::path const& path, std::string const& text, bool replace) {
  auto file = OutputFile::create(path, replace, {});
  if (!file) return fail(file.error());
  if (auto const o = file->write(std::as_bytes(std::span(text))); !o) return fail(o.error());
  if (auto const o = file->commit(); !o) return fail(o.error());
  return ExitStatus::ready;
}

/// The other kind of edge than the sheet asks for came out first.
void report_other_edge(Trial const& trial, Sheet const& sheet) {
  if (!trial.leading || *trial.leading == Corner::top_left || *trial.leading == Corner::bottom_right) return;
  bool const wanted_short = sheet.feed == Feed::short_edge;
  complain("hold: the " + std::string(wanted_short ? "long" : "short") + " edge with " + edge_words(*trial.leading) +
           " came out first, but the sheet must go in " + feed_words(sheet.feed) +
           ". Turn the paper, or the tray's setting, and print the trial sheet again");
}

ExitStatus keep(TrialWords const& w, ResolvedTarget const& resolved) {
  auto const& configuration = resolved.configuration.path;
  std::string const& press = resolved.target.press.name;
  if (configuration.empty() || press.empty())
    return fail({ErrorKind::usage, "--measured is kept for one press of layright.toml. Name a target: --target"});
  auto const trial = parse_trial(w.measured, today());
  if (!trial) return fail(trial.error());
  auto const text = with_trial(configuration, press, *trial);
  if (!text) return fail(text.error());
  if (auto const status = write_file(trial_file(configuration), *text, true); status != ExitStatus::ready) return status;
  std::fprintf(stdout, "%s: %s\n", shown_name(press).c_str(), trial_words(*trial, resolved.unit).c_str());
  report_other_edge(*trial, resolved.target.sheet);
  return ExitStatus::ready;
}

ExitStatus run_trial(TrialWords const& w) {
  auto const resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  if (!w.measured.empty()) return keep(w, *resolved);
  if (w.output.empty()) return fail({ErrorKind::usage, "say where it goes, -o TRIAL.pdf, or what it showed, --measured reads=right,…"});
  auto const sheet = trial_sheet(resolved->target, resolved->unit);
  if (!sheet) return fail(sheet.error());
  if (auto const status = write_file(w.output, *sheet, w.force); status != ExitStatus::ready) return status;
  std::fprintf(stdout, "written: %s. Print it on paper of the same size first: layright send --as-is\n", shown_name(w.output).c_str());
  return ExitStatus::ready;
}

}  // namespace

Run add_trial(CLI::App& command) {
  auto words = std::make_shared<TrialWords>();
  add_target_options(command, words->target);
  command.add_option("-o,--output", words->output, "the trial sheet to write")->type_name("TRIAL.pdf");
  command
      .add_option("--measured", words->measured,
                  "what the printed sheet showed, as its last line has it: "
                  "reads=wrong,leading=12,blank12=4mm,along=380.5mm/381mm; kept beside the configuration")
      ->type_name("VALUES");
  command.add_flag("--force", words->force, "replace an earlier output of that name");
  return [words] { return run_trial(*words); };
}

}  // namespace layright
