#include <CLI/CLI.hpp>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/file_run.h"
#include "command/job_sheet_file.h"
#include "command/ledger_options.h"
#include "command/short_report.h"
#include "command/target_options.h"
#include "job/gang_job.h"
#include "job/laid_pieces.h"
#include "job/plate_work.h"
#include "sheet/gang_order.h"
#include "watch/decide.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

struct GangWords {
  TargetWords target;
  ReadingWords reading;
  SelectionWords selection;
  ScreenWords screen;
  std::vector<std::string> pieces;
  std::string output, manifest, job_sheet, paper, format, cuts, turns, gap, marks, labels;
  std::string intake, by;  // for `now`
  bool force = false;
  int jobs = 0;
};

/// What waits in watched folders is not to wait for more; a file of that name goes before.
bool is_now(GangWords const& w) {
  std::error_code ignored;
  return w.pieces.size() == 1 && w.pieces[0] == "now" && w.output.empty() && !fs::exists("now", ignored);
}

/// Marks what waits in one ledger; how many there are.
Result<int> mark_now(FoundLedger const& found, GangWords const& w, std::string const& who) {
  auto ledger = Ledger::open(found.path, false);
  if (!ledger) return ledger.error().kind == ErrorKind::no_input ? Result<int>(0) : ledger.error();
  std::vector<std::string> names;
  for (auto const& intake : found.intakes) names.push_back(intake.name);
  auto const all = gang_all_now(*ledger, names, w.target.target, who);
  return all ? Result<int>(all->waiting) : all.error();
}

ExitStatus run_gang_now(GangWords const& w) {
  LedgerWords words;
  words.config = w.target.config;
  words.intake = w.intake;
  words.by = w.by;
  auto const ledgers = find_ledgers(words);
  if (!ledgers) return fail(ledgers.error());
  if (auto const& name = w.target.target; !name.empty() && !ledgers->front().configuration.targets.contains(name))
    return fail(usage_error("there is no target '" + name + "' in the configuration"));
  auto worst = ExitStatus::ready;
  int all = 0;
  for (auto const& found : *ledgers) {
    auto const marked = mark_now(found, w, person(words));
    if (!marked) return fail(marked.error());
    all += *marked;
    if (*marked > 0) worst = worse(worst, have_it_done(found, std::to_string(*marked) + (*marked == 1 ? " job" : " jobs")));
  }
  if (all == 0) std::puts("No job waits for a sheet.");
  return worst;
}

bool is_order(std::vector<std::string> const& words) { return words.size() == 1 && fs::path(words[0]).extension() == ".toml"; }

Result<GangOrder> order_of(GangWords const& w) {
  if (is_order(w.pieces)) return load_gang_order(w.pieces[0]);
  GangOrder order;
  for (auto const& word : w.pieces) {
    auto piece = parse_ordered_piece(word);
    if (!piece) return piece.error();
    order.pieces.push_back(std::move(*piece));
  }
  return order;
}

template <class Parse, class T>
Outcome choose(std::string const& text, char const* option, Parse parse, std::optional<T>& into) {
  if (text.empty()) return done();
  auto value = parse(text);
  if (!value) return usage_error(std::string(option) + ": " + value.error().message);
  into = *value;
  return done();
}

/// What the command line says goes before what the order says, and that before the target's.
Result<GangOptions> gang_options(GangWords const& w, GangOrder const& order, Target const& target) {
  GangChoices said;
  for (auto const& o : {choose(w.cuts, "--cuts", parse_cuts, said.cuts), choose(w.turns, "--turns", parse_piece_turns, said.turns),
                        choose(w.gap, "--gap", parse_gap, said.gap), choose(w.marks, "--marks", parse_on_off, said.marks),
                        choose(w.labels, "--labels", parse_on_off, said.labels)})
    if (!o) return o.error();
  return with_choices(with_choices(target.ganged, order.choices), said);
}

/// The keys of [target.NAME] that are about one piece a sheet say nothing of many: each keeps its size and lies where there is room.
void forget_single_placement(Target& target) { target.placement = PlacementOptions{}; }

class GangRun {
 public:
  GangRun(GangWords const& w, GangOrder order, ResolvedTarget const& resolved, std::shared_ptr<InspectOptions const> options, GangOptions ganged)
      : w_(w), order_(std::move(order)), resolved_(resolved), options_(std::move(options)), ganged_(ganged) {}

  ExitStatus run() {
    auto const format = parse_format(w_.format);
    if (!format) return fail(format.error());
    json_ = *format == ReportFormat::json;
    std::vector<fs::path> inputs;
    for (auto const& piece : order_.pieces) inputs.push_back(piece.file);
    if (is_order(w_.pieces)) inputs.emplace_back(w_.pieces[0]);
    auto output = OutputFile::create(w_.output, w_.force, inputs);
    if (!output) return fail(output.error());
    std::optional<OutputFile> plates, manifest;
    if (wants_plate(options_->target, PlateAs::file)) {
      auto made = OutputFile::create(plate_file_of(w_.output), w_.force, inputs);
      if (!made) return fail(made.error());
      plates.emplace(std::move(*made));
      report_.plate_output = plate_file_of(w_.output).native();
    }
    if (!order_.manifest.empty()) {
      inputs.emplace_back(w_.output);
      for (auto const& other : {fs::path(w_.output), fs::path(report_.plate_output)})
        if (order_.manifest.lexically_normal() == other.lexically_normal())
          return fail(usage_error("the sheets and the manifest cannot both be " + shown_name(other.native())));
      auto made = OutputFile::create(order_.manifest, w_.force, inputs);
      if (!made) return fail(made.error());
      manifest.emplace(std::move(*made));
    }
    if (!w_.job_sheet.empty()) {
      inputs.emplace_back(w_.output);
      inputs.emplace_back(order_.manifest);
      if (auto const could = OutputFile::create(w_.job_sheet, w_.force, inputs); !could) return fail(could.error());
      inputs_ = inputs;
    }
    LaidPieces laid(order_, *options_, ganged_, w_.output);
    if (auto const meant = laid.check(); !meant) return fail(meant.error());
    run_jobs([&] { return laid.next(); }, w_.jobs > 0 ? w_.jobs : usual_parallel());
    auto const status = status_of(laid);
    if (status != ExitStatus::ready) return held(laid, status, "a piece is held, so nothing was written");
    auto plan = plan_gang(laid.wanted_pages(), options_->target, ganged_, options_->unit);
    if (!plan) return refused(laid, plan.error());
    plan->report.plate_output = report_.plate_output;
    report_ = plan->report;
    auto const job = std::make_shared<GangJob>(laid.take_files(), std::move(*plan), options_, std::move(*output), std::move(plates));
    bool started = false;
    run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(started, true) ? nullptr : job; }, 1);
    if (job->trouble()) return refused(laid, *job->trouble());
    return finished(laid, *job, manifest);
  }

 private:
  /// The worst of all files.
  static ExitStatus status_of(LaidPieces const& laid) {
    auto worst = ExitStatus::ready;
    for (auto const* kind : laid.kinds())
      worst = worse(worst, kind->ready ? ExitStatus::ready : kind->trouble ? layright::status_of(*kind->trouble) : ExitStatus::hold);
    return worst;
  }

  ExitStatus refused(LaidPieces const& laid, Error const& error) {
    if (error.kind != ErrorKind::hold) return fail(error);
    return held(laid, ExitStatus::hold, error.message);
  }

  ExitStatus held(LaidPieces const& laid, ExitStatus status, std::string const& why) {
    report_.held = why;
    report_.output.clear();
    report_.plate_output.clear();
    tell(laid, {});
    if (!json_) {
      std::fflush(stdout);
      complain(why);
      if (auto const accept = laid.would_be_accepted(); !accept.empty()) complain("once you have looked: --accept " + accept);
    }
    return status;
  }

  ExitStatus finished(LaidPieces const& laid, GangJob& job, std::optional<OutputFile>& manifest) {
    report_.output = w_.output;
    auto const text = gang_manifest(report_);
    if (manifest)
      if (auto const o = manifest->write(std::as_bytes(std::span(text))); !o) return fail(o.error());
    auto output = job.take_output();
    if (auto plates = job.take_plates())  // first: whoever waits for the sheets finds all there
      if (auto const o = plates->commit(); !o) return fail(o.error());
    if (auto const o = output.commit(); !o) return fail(o.error());
    if (manifest)
      if (auto const o = manifest->commit(); !o) return fail(o.error());
    tell(laid, job.findings());
    if (w_.job_sheet.empty()) return ExitStatus::ready;
    return write_job_sheet({w_.job_sheet, w_.paper, w_.force, inputs_}, options_->target, options_->unit, w_.output,
                           cut_list(report_, options_->unit));
  }

  void tell(LaidPieces const& laid, std::vector<Finding> const& of_plates) {
    if (json_) {
      auto json = nlohmann::ordered_json::parse(gang_manifest(report_));
      auto files = nlohmann::ordered_json::parse(laid.json(options_->target));
      json["target"] = files["target"];
      json["files"] = files["files"];
      auto const text = json.dump(1) + "\n";
      std::fwrite(text.data(), 1, text.size(), stdout);
      return;
    }
    ReportStyle const style{options_->unit, colour_wanted(w_.screen.color), "gang", resolved_.assumed};
    auto const report = w_.screen.verbose ? text_report(stdout, options_->target, style) : short_report(stdout, options_->target, style);
    laid.tell(*report);
    for (auto const& finding : of_plates) std::fprintf(stdout, "%s: %s\n", finding.check.c_str(), finding.message.c_str());
    if (report_.held.empty()) {
      auto const text = gang_text(report_, options_->unit, w_.screen.verbose);
      std::fwrite(text.data(), 1, text.size(), stdout);
    }
  }

  GangWords const& w_;
  GangOrder order_;
  ResolvedTarget const& resolved_;
  std::shared_ptr<InspectOptions const> options_;
  GangOptions ganged_;
  GangReport report_;
  std::vector<fs::path> inputs_;
  bool json_ = false;
};

ExitStatus run_gang(GangWords const& w) {
  if (is_now(w)) return run_gang_now(w);
  if (w.output.empty()) return fail(usage_error("say which file the sheets go to, for instance -o sheets.pdf"));
  if (w.output == "-") return fail(usage_error("-o needs the name of a file: what is written is read back before it appears under its name"));
  auto order = order_of(w);
  if (!order) return fail(order.error());
  auto words = w.target;
  if (words.target.empty()) words.target = order->target;
  auto const resolved = resolve_target(words);
  if (!resolved) return fail(resolved.error());
  if (!resolved->reading_said) return fail({ErrorKind::usage, "nothing was written: " + reading_not_said(resolved->configuration)});
  auto options = resolve_options(*resolved, {}, w.reading, w.selection);
  if (!options) return fail(options.error());
  if (order->white) {
    if (options->target.press.prints_white) options->target.white = *order->white;
    if (order->white->percent.value_or(0) > options->target.press.white_limit_pct)
      return fail(
          usage_error("the order asks for more white than the press may lay, " + format_number(options->target.press.white_limit_pct, 2) + "%"));
  }
  for (auto const& piece : order->pieces)
    for (auto const& id : piece.accept)
      if (!find_check(id)) return fail(no_check_error("accept", id));
  auto const ganged = gang_options(w, *order, options->target);
  if (!ganged) return fail(ganged.error());
  if (!w.manifest.empty()) order->manifest = w.manifest;
  forget_single_placement(options->target);
  return GangRun(w, std::move(*order), *resolved, std::make_shared<InspectOptions const>(std::move(*options)), *ganged).run();
}

}  // namespace

Run add_gang(CLI::App& command) {
  auto words = std::make_shared<GangWords>();
  command
      .add_option(
          "PIECE", words->pieces,
          "an order (ORDER.toml), or pieces: FILE, FILE:COUNT or FILE:COUNT@WIDTH, the width on the goods; or now: what waits in watched folders")
      ->required();
  command.add_option("-o,--output", words->output, "the file that the sheets go to")->type_name("SHEETS.pdf");
  command.add_option("--cuts", words->cuts, "straight (the default: each cut runs through), free (boxes), or shape (by the ink's outline)")
      ->type_name("CUTS");
  command.add_option("--turns", words->turns, "none, quarter (the default: where it saves film), or any")->type_name("TURNS");
  command.add_option("--gap", words->gap, "what stays free between pieces; else 0.25in")->type_name("LENGTH");
  command.add_option("--marks", words->marks, "on (the default) or off: marks to cut by")->type_name("on|off");
  command.add_option("--labels", words->labels, "on (the default) or off: the number of each piece beside it")->type_name("on|off");
  command.add_option("--manifest", words->manifest, "write which piece lies where, as JSON")->type_name("FILE.json");
  command.add_option("--job-sheet", words->job_sheet, "write the operator's job sheet as well, with a picture of each sheet and the cuts")
      ->type_name("SHEET.pdf");
  command.add_option("--paper", words->paper, "a4 or letter, for the job sheet; else letter with inches, a4 with ISO sizes")->type_name("PAPER");
  add_target_options(command, words->target);
  add_reading_options(command, words->reading);
  add_selection_options(command, words->selection);
  add_screen_options(command, words->screen);
  command.add_option("--intake", words->intake, "of now: which intake's jobs; else all")->type_name("NAME");
  command.add_option("--by", words->by, "of now: who decides; else the name of the user")->type_name("NAME");
  command.add_flag("--force", words->force, "replace earlier outputs of those names");
  command.add_option("--format", words->format, "text (the default) or json")->type_name("FORMAT");
  command.add_option("--jobs", words->jobs, "how many files are worked on at a time; else one a core")->type_name("N")->check(CLI::Range(1, 256));
  return [words] { return run_gang(*words); };
}

}  // namespace layright
