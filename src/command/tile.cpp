#include <CLI/CLI.hpp>
#include <array>
#include <cmath>
#include <memory>

#include "command/command.h"
#include "command/file_run.h"
#include "command/given_words.h"
#include "command/lay_outputs.h"
#include "command/short_report.h"
#include "command/target_options.h"
#include "job/lay_job.h"
#include "job/page_drawing.h"
#include "report/assembly.h"
#include "write/output_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

struct TileWords {
  TargetWords target;
  PlacementWords placement;
  ReadingWords reading;
  SelectionWords selection;
  std::string file, output, overlap, manifest, assembly, format, marks = "on", labels = "on";
  bool force = false, no_verify = false;
  ScreenWords screen;
};

Result<Tiling> tiling_of(TileWords const& w) {
  Tiling tiling;
  tiling.marks = w.marks == "on";
  tiling.labels = w.labels == "on";
  if (w.overlap.empty()) return tiling;
  auto const overlap = w.overlap == "0" ? Result<Length>(Length()) : parse_length(w.overlap);
  if (!overlap) return Error{ErrorKind::usage, "--overlap: " + overlap.error().message};
  if (overlap->in_points() < 0) return Error{ErrorKind::usage, "--overlap: parts cannot overlap by less than nothing"};
  tiling.overlap = *overlap;
  return tiling;
}

/// BANNER-tiles.pdf beside the input where nobody says where to.
std::string output_of(TileWords const& w) {
  if (!w.output.empty() || w.file == "-") return w.output;
  fs::path const file(w.file);
  return (file.parent_path() / (file.stem().native() + "-tiles.pdf")).native();
}

ExitStatus tile_status(CheckJob& job) {
  auto& lay = static_cast<LayJob&>(job);
  if (lay.written()) return ExitStatus::ready;
  if (lay.trouble()) return status_of(*lay.trouble());
  return lay.output_trouble() ? status_of(*lay.output_trouble()) : ExitStatus::hold;
}

/// What lies on each sheet, for whoever presses them.
void report_sheets(LayJob& job, Tiling const& tiling, Unit unit) {
  auto const& manifest = *job.story().tail().manifest;
  std::fprintf(stdout, "%s\n", sheets_words(manifest).c_str());
  int sheet = 0;
  for (auto const& page : job.tiles()) {
    auto const of = page.plan.tiles.size();
    std::string const from = job.story().head().page_count > 1 ? "page " + std::to_string(page.page) + ", " : "";
    for (std::size_t i = 0; i < of; ++i) {
      auto const& tile = page.plan.tiles[i];
      auto const position = tile_position(tile, page.plan.columns);
      std::fprintf(stdout, "  sheet %d: %s%zu of %zu%s, %s\n", ++sheet, from.c_str(), i + 1, of, (position.empty() ? "" : ", " + position).c_str(),
                   format_size(Length::points(tile.area.width() * page.scale), Length::points(tile.area.height() * page.scale), unit).c_str());
    }
  }
  if (manifest.sheets == static_cast<int>(job.tiles().size())) return;  // nothing is parted
  std::fprintf(stdout, "Press them in this order. %s\n",
               tiling.overlap.in_points() > 0 ? ("Neighbors overlap by " + format_length(tiling.overlap, unit) + ".").c_str()
                                              : "Cut on the marks and butt the edges.");
  for (auto const& page : job.tiles())
    if (!page.plan.rim) return void(std::fprintf(stdout, "The parts fill their sheets: not all marks and labels have room.\n"));
}

Outcome write_whole(fs::path const& path, std::string const& bytes, bool force, std::vector<fs::path> const& others) {
  auto out = OutputFile::create(path, force, others);
  if (!out) return out.error();
  if (auto const o = out->write(std::as_bytes(std::span(bytes))); !o) return o;
  return out->commit();
}

/// OUT.png, OUT-2.png, …: a PDF has all pages.
fs::path assembly_path(fs::path const& path, std::size_t index) {
  return index == 0 ? path : path.parent_path() / (path.stem().native() + "-" + std::to_string(index + 1) + path.extension().native());
}

/// As it lies on the goods. Of a page that was laid before the parts are those of its source: shown in the laid page where they lie there.
AssemblyPage assembly_page(PageTiles const& tiles, Tiling const& tiling, fs::path const& source, InspectOptions const& options) {
  constexpr int kLongest = 1600;  // pixels
  AssemblyPage page;
  page.file = shown_name(source.filename().native());
  page.number = tiles.page;
  page.overlap = tiling.overlap.in_points();
  page.mirrored = tiles.plan.mirrored != tiles.to_seen.mirrors();
  int number = 0;
  for (auto const& tile : tiles.plan.tiles) {
    auto const part = tiles.to_seen.apply(tile.between_cuts);
    page.art = number == 0 ? part : united(page.art, part);
    page.parts.push_back({part, ++number});
  }
  page.scale = tiles.scale / std::sqrt(std::abs(tiles.to_seen.determinant()));
  if (auto drawn = draw_page_of(source, tiles.page, kLongest, options)) page.picture = std::move(*drawn);
  return page;
}

ExitStatus write_assembly(TileWords const& w, LayJob& job, Tiling const& tiling, InspectOptions const& options, std::vector<fs::path> const& others) {
  Assembly assembly;
  assembly.form = *proof_form("--assembly", w.assembly);
  assembly.unit = options.unit;
  bool const all_in_one = assembly.form == ProofForm::pdf;
  for (std::size_t i = 0; i < job.tiles().size(); ++i) {
    assembly.pages.push_back(assembly_page(job.tiles()[i], tiling, w.file, options));
    if (all_in_one && i + 1 < job.tiles().size()) continue;
    auto const bytes = make_assembly(assembly);
    if (!bytes) return fail(bytes.error());
    if (auto const o = write_whole(assembly_path(w.assembly, all_in_one ? 0 : i), *bytes, w.force, others); !o) return fail(o.error());
    assembly.pages.clear();
  }
  return ExitStatus::ready;
}

/// The report names the target, the file, its output, and what is accepted.
constexpr std::array<std::string_view, 7> kSaidAnyway{"--verbose", "--color", "FILE", "--output", "--target", "--accept", "--format"};

ExitStatus run_tile(TileWords const& w, std::vector<std::string> const& asked) {
  auto const format = parse_format(w.format);
  if (!format) return fail(format.error());
  auto const resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  if (!resolved->reading_said) return fail({ErrorKind::usage, "nothing was written: " + reading_not_said(resolved->configuration)});
  if (w.placement.scale == "fit" || w.placement.scale == "shrink")
    return fail(
        {ErrorKind::usage, "--scale " + w.placement.scale + " is for one sheet, as `layright lay` takes it; here say --width, or a percentage"});
  auto options = resolve_options(*resolved, w.placement, w.reading, w.selection);
  if (!options) return fail(options.error());
  auto const tiling = tiling_of(w);
  if (!tiling) return fail(tiling.error());
  std::error_code ignored;
  if (fs::is_directory(w.file, ignored)) return fail({ErrorKind::usage, shown_name(w.file) + " is a folder; tile takes one file"});
  auto const output = output_of(w);
  if (output.empty()) return fail({ErrorKind::usage, "say where to write what comes from standard input: -o tiles.pdf"});
  std::vector<fs::path> const inputs{w.file};
  auto const outputs = lay_outputs({w.file}, inputs, output, ".pdf");
  if (!outputs) return fail(outputs.error());
  auto const& path = outputs->of.at(inputs[0]);

  if (!w.assembly.empty()) {
    if (auto const form = proof_form("--assembly", w.assembly); !form) return fail(form.error());
    if (w.file == "-") return fail({ErrorKind::usage, "--assembly needs a file: standard input cannot be read again to be drawn"});
  }
  std::vector<fs::path> const others{w.file, path};
  for (auto const& more : {w.manifest, w.assembly})  // before anything is written
    if (!more.empty()) {
      if (fs::path(more).lexically_normal() == path.lexically_normal())
        return fail({ErrorKind::cannot_create, "two outputs would have the name " + shown_name(more)});
      if (auto const could = OutputFile::create(more, w.force, others); !could) return fail(could.error());
    }
  auto const shared = std::make_shared<InspectOptions const>(std::move(*options));
  ReportStyle const style{shared->unit, colour_wanted(w.screen.color), "tile", resolved->assumed, asked};
  auto const report = *format == ReportFormat::json ? json_report(stdout, shared->target)
                      : w.screen.verbose            ? text_report(stdout, shared->target, style)
                                                    : short_report(stdout, shared->target, style);
  LayOptions lay{path, w.force, !w.no_verify, std::nullopt, inputs, true, false, outputs->in_folder, *tiling};
  auto const job = std::make_shared<LayJob>(inputs[0], shared, std::move(lay));
  auto status = run_files(
      inputs, [&](fs::path const&) { return job; }, tile_status, *report, 1);
  if (status == ExitStatus::ready && *format == ReportFormat::text) report_sheets(*job, *tiling, shared->unit);
  if (status == ExitStatus::ready && !w.manifest.empty())
    if (auto const o = write_whole(w.manifest, manifest_text(*job->story().tail().manifest), w.force, others); !o) status = fail(o.error());
  if (status == ExitStatus::ready && !w.assembly.empty()) status = write_assembly(w, *job, *tiling, *shared, others);
  if (w.no_verify) complain("what was written has not been read back (--no-verify)");
  return status;
}

}  // namespace

Run add_tile(CLI::App& command) {
  auto words = std::make_shared<TileWords>();
  command.add_option("FILE", words->file, "a file of art larger than the sheet; - is standard input")->required();
  command.add_option("-o,--output", words->output, "the file to write; else FILE-tiles.pdf beside FILE")->type_name("OUT");
  command.add_option("--overlap", words->overlap, "how far neighbors overlap: 0 (the default) to cut on the marks and butt, or for instance 5mm")
      ->type_name("LENGTH");
  command.add_option("--manifest", words->manifest, "write which part lies on which sheet, as JSON")->type_name("FILE.json");
  command.add_option("--marks", words->marks, "marks to cut by, outside the art: on (the default) or off")
      ->check(CLI::IsMember({"on", "off"}))
      ->type_name("WORD");
  command.add_option("--labels", words->labels, "which part it is, outside the art: on (the default) or off")
      ->check(CLI::IsMember({"on", "off"}))
      ->type_name("WORD");
  command.add_option("--assembly", words->assembly, "draw how the parts lie on the goods: a .png, .svg or .pdf")->type_name("OUT");
  add_target_options(command, words->target);
  add_size_options(command, words->placement);
  add_reading_options(command, words->reading);
  add_selection_options(command, words->selection);
  add_screen_options(command, words->screen);
  command.add_flag("--force", words->force, "replace an earlier output of that name");
  command.add_flag("--no-verify", words->no_verify, "do not read the output back and compare it with its source");
  command.add_option("--format", words->format, "text (the default) or json")->type_name("FORMAT");
  return [words, &command] { return run_tile(*words, given_words(command, kSaidAnyway)); };
}

}  // namespace layright
