// Runs the jobs of a command over several files, side by side, and tells them in the order in which they were named.
#pragma once
#include <filesystem>
#include <functional>
#include <memory>
#include <vector>

#include "command/exit_status.h"
#include "job/file_job.h"

namespace CLI {
class App;
}

namespace layright {

/// Makes the job of one file.
using MakeJob = std::function<std::shared_ptr<CheckJob>(std::filesystem::path const&)>;
/// What a job comes to once it is over.
using StatusOfJob = std::function<ExitStatus(CheckJob&)>;

/// Gives the worst status of all. Progress goes to standard error where that is a terminal and the run is long.
ExitStatus run_files(std::vector<std::filesystem::path> const& files, MakeJob const& make, StatusOfJob const& status, Report& report, int parallel);

/// A checked file's status by its verdict or by what made it unusable.
ExitStatus check_status(CheckJob& job);

enum class ReportFormat { text, json, html };
/// `html`: that is a format here too.
Result<ReportFormat> parse_format(std::string const& text, bool html = false);
/// `asked`: --color, auto where nobody said: standard output is a terminal, and the person has not asked for no color (NO_COLOR).
bool colour_wanted(std::string const& asked);

/// How every command that works on files reports its run.
struct ScreenWords {
  std::string color = "auto";
  bool verbose = false;
};
void add_screen_options(CLI::App& command, ScreenWords& words);

}  // namespace layright
