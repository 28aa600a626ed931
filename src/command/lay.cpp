#include <CLI/CLI.hpp>
#include <array>
#include <functional>
#include <map>
#include <memory>
#include <set>

#include "command/command.h"
#include "command/file_run.h"
#include "command/given_words.h"
#include "command/job_sheet_file.h"
#include "command/lay_outputs.h"
#include "command/named_files.h"
#include "command/plate_options.h"
#include "command/proof_file.h"
#include "command/short_report.h"
#include "command/target_options.h"
#include "job/lay_job.h"
#include "job/plate_work.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kDeepestFolder = 100;

struct LayWords {
  TargetWords target;
  PlacementWords placement;
  ReadingWords reading;
  SelectionWords selection;
  PlateWords plate;
  std::vector<std::string> files;
  std::string output, format, as = "pdf", job_sheet, paper;
  bool force = false, no_verify = false;
  int jobs = 0;
  ProofWords proof;
  ScreenWords screen;
};

ExitStatus lay_status(CheckJob& job) {
  auto& lay = static_cast<LayJob&>(job);
  if (lay.written()) return ExitStatus::ready;
  if (lay.trouble()) return status_of(*lay.trouble());
  return lay.output_trouble() ? status_of(*lay.output_trouble()) : ExitStatus::hold;
}

/// The folders that one output needs and that are not there: from the innermost out.
std::vector<fs::path> missing_folders(fs::path const& output) {
  std::vector<fs::path> missing;
  std::error_code ignored;
  for (auto folder = output.parent_path(); !folder.empty() && !fs::exists(folder, ignored) && missing.size() < kDeepestFolder;
       folder = folder.parent_path())
    missing.push_back(folder);
  return missing;
}

/// The page setup that a PostScript job begins with, by the job's title; nothing for a PDF. Error (hold) where a person must decide first.
using TitledSetup = std::function<std::optional<PostscriptSetup>(std::string const& title)>;
Result<TitledSetup> setup_for(LayWords const& w, ResolvedTarget const& resolved, Target const& target,
                              std::set<std::string, std::less<>> const& accepted) {
  if (w.as == "pdf") return TitledSetup([](std::string const&) { return std::nullopt; });
  auto prepared = prepare_press(target, std::nullopt, resolved.unit);
  if (!prepared) return prepared.error();
  auto const press = std::make_shared<PreparedPress>(std::move(*prepared));
  TitledSetup const make = [press, target](std::string const& title) {
    return std::optional(press->ppd ? postscript_setup(target, title, *press->ppd, press->setup) : postscript_setup(target, title));
  };
  auto findings = press->setup.findings;
  auto const more = make("layright")->findings;
  findings.insert(findings.end(), more.begin(), more.end());
  complain_of(findings);
  for (auto const& finding : findings)
    if (finding.level == Level::hold && !accepted.contains(finding.check))
      return Error{ErrorKind::hold, "the page setup is held, so nothing was written; where you have decided, --accept " + std::string(finding.check)};
  return make;
}

/// No plate's own file may have the name of another file that is laid.
Outcome check_plate_files(LayOutputs const& outputs) {
  std::map<fs::path, fs::path> laid;
  for (auto const& [input, output] : outputs.of) laid.emplace(output, input);
  for (auto const& [output, input] : laid)
    if (auto const other = laid.find(plate_file_of(output)); other != laid.end())
      return usage_error(shown_name(other->first.native()) + " would be the white plate of " + shown_name(input.native()) + " and the laid " +
                         shown_name(other->second.native()) + ": lay them into different folders");
  return done();
}

/// The report itself names the target, the file, its output, and what is accepted.
constexpr std::array<std::string_view, 8> kSaidOtherwise{"--verbose", "--color", "FILE", "--output", "--target", "--accept", "--format", "--jobs"};

ExitStatus run_lay(LayWords const& w, std::vector<std::string> const& asked) {
  auto const format = parse_format(w.format);
  if (!format) return fail(format.error());
  auto const resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  if (!resolved->reading_said) return fail({ErrorKind::usage, "nothing was written: " + reading_not_said(resolved->configuration)});
  auto options = resolve_options(*resolved, w.placement, w.reading, w.selection);
  if (!options) return fail(options.error());
  if (auto const o = resolve_plate(w.plate, options->target); !o) return fail(o.error());
  auto const named = files_named(w.files);
  auto const& files = named.files;
  auto const outputs = lay_outputs(w.files, files, w.output, w.as == "pdf" ? ".pdf" : ".ps");
  if (!outputs) return fail(outputs.error());
  if (wants_plate(options->target, PlateAs::file))
    if (auto const o = check_plate_files(*outputs); !o) return fail(o.error());
  if (!w.job_sheet.empty() && (files.size() != 1 || w.as != "pdf"))
    return fail({ErrorKind::usage, "--job-sheet goes with one file and a PDF; layright setup --as sheet makes it for others"});
  if (auto const o = check_proof_words(w.proof, files); !o) return fail(o.error());
  auto const postscript = setup_for(w, *resolved, options->target, options->selection.accept);
  if (!postscript) return fail(postscript.error());
  for (auto const& remark : named.remarks) complain(remark);
  if (files.size() > 2) options->shared_letters = std::make_shared<SharedLetters>(options->target.letters);
  auto const shared = std::make_shared<InspectOptions const>(std::move(*options));
  ReportStyle const style{shared->unit, colour_wanted(w.screen.color), "lay", resolved->assumed, asked};
  auto const report = *format == ReportFormat::json ? json_report(stdout, shared->target)
                      : w.screen.verbose            ? text_report(stdout, shared->target, style)
                                                    : short_report(stdout, shared->target, style);
  auto const make = [&](fs::path const& path) -> std::shared_ptr<CheckJob> {
    return std::make_shared<LayJob>(
        path, shared,
        LayOptions{outputs->of.at(path), w.force, !w.no_verify, (*postscript)(shown_name(path.filename().native())), files, true, false, true});
  };
  auto const made = outputs->in_folder ? std::vector<fs::path>() : missing_folders(outputs->of.begin()->second);
  PageCollector reported(*report, w.proof.path.empty() ? 0 : kMostProofPages);
  auto status = run_files(files, make, lay_status, reported, w.jobs > 0 ? w.jobs : usual_parallel());
  std::error_code not_empty;
  for (auto const& folder : made) fs::remove(folder, not_empty);  // nothing was written
  if (!w.proof.path.empty()) {
    std::fflush(stdout);
    status = worse(status, write_proofs(w.proof, reported, files.front(), *shared, files));
  }
  if (!w.job_sheet.empty() && status == ExitStatus::ready)
    status = write_job_sheet({w.job_sheet, w.paper, w.force, {w.files[0]}}, shared->target, resolved->unit, outputs->of.begin()->second);
  if (w.no_verify) complain("what was written has not been read back (--no-verify)");
  return status;
}

}  // namespace

Run add_lay(CLI::App& command) {
  auto words = std::make_shared<LayWords>();
  command.add_option("FILE", words->files, "PDF files, or folders of them; - is standard input")->required();
  command.add_option("-o,--output", words->output, "the file to write, or the folder for several; else FILE-laid.pdf beside FILE")->type_name("OUT");
  add_target_options(command, words->target);
  add_placement_options(command, words->placement);
  add_reading_options(command, words->reading);
  add_selection_options(command, words->selection);
  add_plate_options(command, words->plate);
  command.add_option("--as", words->as, "pdf (the default), or postscript: a whole job with the page setup")
      ->check(CLI::IsMember({"pdf", "postscript"}))
      ->type_name("FORM");
  command.add_option("--job-sheet", words->job_sheet, "write the operator's job sheet as well")->type_name("SHEET.pdf");
  command.add_option("--paper", words->paper, "a4 or letter, for the job sheet; else letter with inches, a4 with ISO sizes")->type_name("PAPER");
  add_screen_options(command, words->screen);
  add_proof_options(command, words->proof);
  command.add_flag("--force", words->force, "replace an earlier output of that name");
  command.add_flag("--no-verify", words->no_verify, "do not compare the output with its source");
  command.add_option("--format", words->format, "text (the default) or json")->type_name("FORMAT");
  command.add_option("--jobs", words->jobs, "files at a time; else one a core")->type_name("N")->check(CLI::Range(1, 256));
  return [words, &command] { return run_lay(*words, given_words(command, kSaidOtherwise)); };
}

}  // namespace layright
