#include <signal.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <new>
#include <span>
#include <vector>

#include "base/version.h"
#include "command/command.h"
#include "command/manual.h"
#include "isolate/sandbox.h"
#include "isolate/scratch_folder.h"
#include "report/report.h"
#include "sheet/sizes.h"
#include "write/output_file.h"

namespace layright {
namespace {

constexpr std::array kCommands = {
    Command{"check", "find what would go wrong on the sheet", "layright check lantern.pdf --sheet 8.5x17in --reading wrong", add_check},
    Command{"lay", "write the corrected file: on the sheet, inside the margin, mirrored if it must be",
            "layright lay lantern.pdf -o lantern-laid.pdf --scale shrink --reading wrong --incoming right", add_lay},
    Command{"gang", "put several pieces of art on as few sheets as can be", "layright gang crest.pdf:6 fox.pdf:2@4in -o sheets.pdf --reading wrong",
            add_gang},
    Command{"tile", "part art larger than the sheet over several, cut where it hurts least",
            "layright tile banner.pdf -o banner-tiles.pdf --width 40in --reading wrong", add_tile},
    Command{"setup", "print the press settings for a target", "layright setup --target dark-shirt --as ppd", add_setup},
    Command{"presses", "list the print queues, and which suit the sheet", "layright presses --sheet 12.5x19in", add_presses},
    Command{"send", "send a laid file to the press with its settings, and follow it", "layright send lantern-laid.pdf --target dark-shirt", add_send},
    Command{"trial", "make a trial sheet, and keep what it shows about the press",
            "layright trial --target dark-shirt -o trial.pdf && layright send trial.pdf --target dark-shirt --as-is", add_trial},
    Command{"watch", "watch folders: check and lay each file, into ready or held", "layright watch front-desk --once", add_watch},
    Command{"ledger", "list what came in and what became of it; sheets used", "layright ledger --state held", add_ledger},
    Command{"release", "let a held file go on", "layright release 12 --incoming right", add_release},
    Command{"again", "lay a file once more from its original", "layright again 12", add_again},
    Command{"discard", "put a held file away; its original is kept", "layright discard 12 --why \"the customer withdrew it\"", add_discard},
    Command{"spoiled", "count spoiled sheets", "layright spoiled 12 --why \"fed crooked\"", add_spoiled},
    Command{"desk", "show the watch folder's day in a browser on this machine, and decide there", "layright desk", add_desk},
    Command{"sheets", "list sheets, presses and targets", "layright sheets --unit mm", add_sheets},
    Command{"checks", "list the checks, their limits and sources", "layright checks", add_checks},
    Command{"formats", "list the file formats, and their limits", "layright formats", add_formats},
    Command{"init", "write a layright.toml to start from", "layright init", add_init},
};

constexpr std::string_view kAbout =
    "Checks art for laser-printed transfer film and lays it on the sheet: the right size, inside the margin,\nturned for the press, mirrored exactly "
    "once.";
constexpr std::string_view kCautions =
    "Print only on film that its maker rates for laser fusing: other film can melt inside the press.\nPresses and fusers are hot. Follow the "
    "makers' data sheets and local codes.";

struct Words {
  bool version = false, verbose = false, manual = false;
  std::string manual_folder, completion;
};

ExitStatus report_version(bool verbose) {
  std::fprintf(stdout, "layright %s\n", program_version());
  if (verbose)
    for (auto const& line : describe(probe_sandbox())) std::fprintf(stdout, "  %s\n", line.c_str());
  return ExitStatus::ready;
}

/// What is on standard output must have got there. A reader that has gone is nothing to complain of.
ExitStatus flushed(ExitStatus status) {
  errno = 0;
  bool const good = std::fflush(stdout) == 0 && !std::ferror(stdout);
  if (good || errno == EPIPE) return status;
  complain(std::string("standard output cannot be written") + (errno ? std::string(": ") + std::strerror(errno) : ""));
  return worse(status, ExitStatus::io);
}

/// The first word that nothing takes, with the nearest that would be taken; empty where all are.
std::string odd_word(CLI::App const& where, bool whole_program) {
  auto const words = where.remaining(true);
  if (words.empty()) return {};
  // A word that is no option comes last, but only the whole program takes none: there the first word is meant for a command.
  bool const option = words[0].starts_with("-");
  std::vector<std::string> known;
  if (option)
    for (auto const* o : where.get_options())
      for (auto const& name : o->get_lnames()) known.push_back("--" + name);
  else if (whole_program)
    for (auto const& c : commands()) known.emplace_back(c.name);
  constexpr std::array<std::string_view, 7> kMirrorWords{"--flip", "--mirror", "--mirrored", "--reverse", "--reversed", "--invert", "--flop"};
  if (std::ranges::find(kMirrorWords, words[0]) != kMirrorWords.end() && std::ranges::find(known, "--reading") != known.end())
    return "there is no option '" + words[0] + "'. For a mirrored print say --reading wrong, else --reading right";
  auto const near = nearest_name(words[0], known);
  return "there is no " +
         std::string(option          ? "option '"
                     : whole_program ? "command '"
                                     : "use for '") +
         shown_name(words[0]) + "'" + (near.empty() ? "" : ". Did you mean '" + near + "'?");
}

std::string with_stop(std::string const& text) { return text.ends_with('?') || text.ends_with('.') ? text : text + "."; }

/// CLI11 has exit codes of its own (104 to 109 in 2.1); ours is 64 for all of them.
ExitStatus refuse(CLI::App const& program, CLI::ParseError const& error) {
  CLI::App const* where = &program;
  for (auto const* sub : program.get_subcommands()) where = sub;
  auto const odd = dynamic_cast<CLI::ExtrasError const*>(&error) ? odd_word(*where, where == &program) : std::string();
  complain(with_stop(odd.empty() ? shown_name(error.what()) : odd) + " See " +
           (where == &program ? "layright --help" : "layright " + where->get_name() + " --help"));
  return ExitStatus::usage;
}

/// FOLDER/man1/layright-check.1 and so on.
ExitStatus write_manual(CLI::App const& program, std::filesystem::path const& folder) {
  for (auto const& page : manual_pages(program)) {
    auto const section = std::to_string(page.section);
    std::error_code reported_below;
    std::filesystem::create_directories(folder / ("man" + section), reported_below);
    auto out = OutputFile::create(folder / ("man" + section) / (page.name + "." + section), true, {});
    if (!out) return fail(out.error());
    if (auto const o = out->write(std::as_bytes(std::span(page.text))); !o) return fail(o.error());
    if (auto const o = out->commit(); !o) return fail(o.error());
  }
  return ExitStatus::ready;
}

ExitStatus run(int argc, char** argv) {
  CLI::App program{std::string(kAbout), "layright"};
  program.footer(std::string("Example:\n  layright check lantern.pdf\n\n") + std::string(kCautions));
  program.require_subcommand(0, 1);
  Words words;
  program.add_flag("--version", words.version, "tell the version");
  program.add_flag("--verbose", words.verbose, "with --version: what of the sandbox this machine gives");
  program.add_flag("--manual", words.manual, "print the manual page (roff)")->group("");
  program.add_option("--manual-folder", words.manual_folder, "write all pages of the manual below it")->group("")->type_name("FOLDER");
  program.add_option("--completion", words.completion, "print the completions for bash, zsh or fish")->group("")->type_name("SHELL");
  std::vector<std::pair<CLI::App*, Run>> added;
  for (auto const& c : commands()) {
    auto* sub = program.add_subcommand(std::string(c.name), std::string(c.summary));
    sub->footer("Example:\n  " + std::string(c.example));
    added.emplace_back(sub, c.add(*sub));
  }
  try {
    program.parse(argc, argv);
  } catch (CLI::CallForHelp const&) {
    CLI::App const* where = &program;
    for (auto const* sub : program.get_subcommands()) where = sub;
    std::fputs(where->help(where == &program ? "" : "layright").c_str(), stdout);
    return ExitStatus::ready;
  } catch (CLI::ParseError const& error) {
    return refuse(program, error);
  }
  if (words.version) return report_version(words.verbose);
  if (words.manual) return std::fputs(overview_page(program).c_str(), stdout), ExitStatus::ready;
  if (!words.manual_folder.empty()) return write_manual(program, words.manual_folder);
  if (!words.completion.empty()) {
    auto const script = completion_script(program, words.completion);
    if (!script) return fail(script.error());
    return std::fputs(script->c_str(), stdout), ExitStatus::ready;
  }
  for (auto const& [sub, work] : added)
    if (sub->parsed()) return work();
  complain("no command. Try: layright check lantern.pdf. layright --help lists them");
  return ExitStatus::usage;
}

}  // namespace

std::span<Command const> commands() { return kCommands; }

void complain(std::string_view message) {
  std::string const line = "layright: " + std::string(message) + "\n";
  std::fwrite(line.data(), 1, line.size(), stderr);
}

bool complain_of(std::vector<Finding> const& findings) {
  bool held = false;
  for (auto const& f : findings) {
    complain(std::string(f.level == Level::hold ? "hold: " : "note: ") + shown_name(f.message));
    held = held || f.level == Level::hold;
  }
  return held;
}

ExitStatus fail(Error const& error) {
  complain(shown_name(error.message));
  return status_of(error.kind);
}

int run_program(int argc, char** argv) {
  signal(SIGPIPE, SIG_IGN);
  signal(SIGXFSZ, SIG_IGN);  // a limit on the size of files is then an error of writing like any other
  auto status = ExitStatus::internal;
  try {
    remove_left_scratch();
    status = flushed(run(argc, argv));
  } catch (std::bad_alloc const&) {
    complain("out of memory");
    status = ExitStatus::io;
  } catch (std::exception const& error) {
    complain(std::string("this is a defect of layright, please report it: ") + error.what());
  }
  return static_cast<int>(status);
}

}  // namespace layright
