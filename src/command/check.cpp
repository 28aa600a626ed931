#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <memory>

#include "command/check_facts.h"
#include "command/command.h"
#include "command/file_run.h"
#include "command/given_words.h"
#include "command/named_files.h"
#include "command/plate_options.h"
#include "command/proof_file.h"
#include "command/short_report.h"
#include "command/target_options.h"
#include "report/html_report.h"

namespace layright {
namespace {

constexpr int kReportPicture = 320;  // pixels, in the HTML report: a thousand files stay under 20 MB

struct CheckWords {
  TargetWords target;
  PlacementWords placement;
  ReadingWords reading;
  SelectionWords selection;
  PlateWords plate;
  std::vector<std::string> files;
  std::string format, explain, explain_reading;
  int jobs = 0;
  bool inks = false;
  ProofWords proof;
  ScreenWords screen;
};

ExitStatus explain_check(std::string const& id) {
  auto const* info = find_check(id);
  if (!info) return fail(no_check_error("--explain", id));
  print_facts(*info);
  std::fprintf(stdout, "\n%.*s\n", static_cast<int>(info->explain.size()), info->explain.data());
  return ExitStatus::ready;
}

/// The report itself names the target and the file.
constexpr std::array<std::string_view, 19> kOnlyOfCheck{
    "--verbose", "--color", "FILE",    "--target",       "--unit",        "--format",    "--explain",   "--explain-reading", "--jobs", "--inks",
    "--only",    "--skip",  "--proof", "--proof-ground", "--proof-goods", "--proof-dpi", "--proof-for", "--proof-job",       "--help"};

ExitStatus run_check(CheckWords const& w, std::vector<std::string> const& given) {
  if (!w.explain.empty()) return explain_check(w.explain);
  if (w.files.empty()) return fail({ErrorKind::usage, "check needs a file. Try: layright check lantern.pdf"});
  auto const format = parse_format(w.format, true);
  if (!format) return fail(format.error());
  auto const resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  auto options = resolve_options(*resolved, w.placement, w.reading, w.selection);
  if (!options) return fail(options.error());
  if (auto const o = resolve_plate(w.plate, options->target); !o) return fail(o.error());
  options->inks = w.inks;
  options->weed_unasked = true;
  if (*format == ReportFormat::html) options->picture_side = kReportPicture;
  auto const named = files_named(w.files);
  auto const& files = named.files;
  for (auto const& remark : named.remarks) complain(remark);
  if (auto const o = check_proof_words(w.proof, files); !o) return fail(o.error());
  if (!w.explain_reading.empty())
    if (auto const o = check_picture_path("--explain-reading", w.explain_reading, files); !o) return fail(o.error());
  auto asked = given;
  if (!resolved->reading_said) {
    complain(reading_not_said(resolved->configuration));
    asked.insert(asked.end(), {"--reading", "as-is"});  // which is what is checked for; `lay` takes nothing for granted
  }
  if (files.size() > 2) options->shared_letters = std::make_shared<SharedLetters>(options->target.letters);
  auto const shared = std::make_shared<InspectOptions const>(std::move(*options));
  ReportStyle const style{shared->unit, colour_wanted(w.screen.color), "check", resolved->assumed, asked, !resolved->reading_said};
  auto const report = *format == ReportFormat::json   ? json_report(stdout, shared->target)
                      : *format == ReportFormat::html ? html_report(stdout, shared->target, style)
                      : w.screen.verbose              ? text_report(stdout, shared->target, style)
                                                      : short_report(stdout, shared->target, style);
  bool const drawn = !w.proof.path.empty() || !w.explain_reading.empty();
  PageCollector reported(*report, drawn ? kMostProofPages : 0);
  auto status = run_files(
      files, [&](auto const& path) { return std::make_shared<CheckJob>(path, shared); }, check_status, reported,
      w.jobs > 0 ? w.jobs : usual_parallel());
  if (!drawn) return status;
  std::fflush(stdout);
  if (!w.proof.path.empty()) status = worse(status, write_proofs(w.proof, reported, files.front(), *shared, files));
  if (!w.explain_reading.empty()) status = worse(status, write_reading_pictures(w.explain_reading, reported, files.front(), *shared, files));
  return status;
}

}  // namespace

Run add_check(CLI::App& command) {
  auto words = std::make_shared<CheckWords>();
  command.add_option("FILE", words->files, "PDF files, or folders of them; - is standard input");
  add_target_options(command, words->target);
  add_placement_options(command, words->placement);
  add_reading_options(command, words->reading);
  add_selection_options(command, words->selection);
  add_plate_options(command, words->plate);
  command.add_option("--format", words->format, "text (the default), json, or html: one page with pictures")->type_name("FORMAT");
  command.add_flag("--inks", words->inks, "how much of each ink a page takes, in the JSON; slower");
  add_screen_options(command, words->screen);
  add_proof_options(command, words->proof);
  command.add_option("--explain", words->explain, "explain one check instead")->type_name("CHECK");
  command.add_option("--explain-reading", words->explain_reading, "draw the lines that were read to see which way it reads: a .png, .svg or .pdf")
      ->type_name("OUT");
  command.add_option("--jobs", words->jobs, "files at a time; else one a core")->type_name("N")->check(CLI::Range(1, 256));
  return [words, &command] { return run_check(*words, given_words(command, kOnlyOfCheck)); };
}

}  // namespace layright
