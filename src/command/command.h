// The commands: one file each. A command reads arguments, calls the folders above, prints.
#pragma once
#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "check/finding.h"
#include "command/exit_status.h"

namespace CLI {
class App;
}

namespace layright {

/// Does the command's work once its arguments are parsed.
using Run = std::function<ExitStatus()>;

struct Command {
  std::string_view name, summary;
  std::string_view example;       // shown by --help and in the manual
  Run (*add)(CLI::App& command);  // adds its options and gives what runs it
};
std::span<Command const> commands();

Run add_check(CLI::App& command);
Run add_lay(CLI::App& command);
Run add_tile(CLI::App& command);
Run add_gang(CLI::App& command);
Run add_sheets(CLI::App& command);
Run add_init(CLI::App& command);
Run add_checks(CLI::App& command);
Run add_formats(CLI::App& command);
Run add_setup(CLI::App& command);
Run add_presses(CLI::App& command);
Run add_send(CLI::App& command);
Run add_trial(CLI::App& command);
Run add_watch(CLI::App& command);
Run add_ledger(CLI::App& command);
Run add_release(CLI::App& command);
Run add_again(CLI::App& command);
Run add_discard(CLI::App& command);
Run add_spoiled(CLI::App& command);
Run add_desk(CLI::App& command);

/// The whole program: parses, runs, gives the exit status. Never throws.
int run_program(int argc, char** argv);

/// "layright: MESSAGE" on standard error; file names inside are to be shown_name()d by the caller.
void complain(std::string_view message);
/// The findings of a page setup, one a line, in the same way; whether one of them holds.
bool complain_of(std::vector<Finding> const& findings);
/// The same for an Error; gives its exit status.
ExitStatus fail(Error const& error);

/// Completions, made from the same table of options that parses them. `shell`: bash, zsh or fish; error (usage) for another.
Result<std::string> completion_script(CLI::App const& program, std::string_view shell);

}  // namespace layright
