#include "command/file_run.h"

#include <poll.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <optional>
#include <utility>

#include "command/command.h"
#include "isolate/sandbox.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

/// One line on standard error that overwrites itself; nothing where nobody looks.
class Progress {
 public:
  explicit Progress(std::size_t files) : files_(files), shown_(isatty(STDERR_FILENO) && files > 1) {}
  ~Progress() {
    if (reported_) std::fprintf(stderr, "\r\033[K");
  }
  void done(std::size_t n) {
    using namespace std::chrono;
    auto const now = steady_clock::now();
    if (!shown_ || now - start_ < seconds(1) || now - last_ < milliseconds(200)) return;
    last_ = now;
    reported_ = true;
    std::fprintf(stderr, "\r%zu of %zu files", n, files_);
  }

 private:
  std::size_t files_;
  bool shown_, reported_ = false;
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now(), last_{};
};

/// Who read standard output has closed it: what is still to be said would reach nobody.
bool nobody_listens() {
  pollfd out{STDOUT_FILENO, 0, 0};
  return poll(&out, 1, 0) > 0 && (out.revents & POLLERR);
}

/// Customers' files were read with less around them than they should have.
void report_of_gaps(std::vector<std::string> const& gaps) {
  if (gaps.empty()) return;
  std::string missing;
  for (auto const& gap : gaps) missing += (missing.empty() ? "" : " and ") + gap;
  complain("warning: this machine lacks " + missing +
           ", so a hostile file could have reached more than it may; layright --version --verbose tells what there is");
}

}  // namespace

ExitStatus run_files(std::vector<fs::path> const& files, MakeJob const& make, StatusOfJob const& status, Report& report, int parallel) {
  std::deque<std::shared_ptr<CheckJob>> running;  // in the order named; the front one tells at once
  std::size_t started = 0, finished = 0;
  auto worst = ExitStatus::ready;
  Verdict verdict = Verdict::ready;
  Progress progress(files.size());
  std::optional<SandboxProbe> probe;
  if (static bool sandbox_was_asked = false; !std::exchange(sandbox_was_asked, true)) probe.emplace();
  auto const release_finished = [&] {
    while (!running.empty()) {
      auto& front = *running.front();
      front.story().release(report);
      if (!front.story().over()) return;
      worst = worse(worst, status(front));
      verdict = worse(verdict, front.story().tail().verdict);
      progress.done(++finished);
      running.pop_front();
    }
  };
  run_jobs(
      [&]() -> std::shared_ptr<Job> {
        release_finished();
        if (started == files.size() || nobody_listens()) return nullptr;
        auto job = make(files[started++]);
        running.push_back(job);
        release_finished();
        return job;
      },
      parallel);
  release_finished();
  report.end_run(verdict);
  if (probe) report_of_gaps(sandbox_gaps(probe->parts()));
  return worst;
}

ExitStatus check_status(CheckJob& job) {
  if (job.trouble()) return status_of(*job.trouble());
  return status_of(job.story().tail().verdict);
}

Result<ReportFormat> parse_format(std::string const& text, bool html) {
  if (text == "text" || text.empty()) return ReportFormat::text;
  if (text == "json") return ReportFormat::json;
  if (text == "html" && html) return ReportFormat::html;
  return Error{ErrorKind::usage, "--format: '" + text + (html ? "' is neither text nor json nor html" : "' is neither text nor json")};
}

bool colour_wanted(std::string const& asked) {
  if (asked != "auto") return asked == "always";
  char const* no = std::getenv("NO_COLOR");
  char const* terminal = std::getenv("TERM");
  return isatty(STDOUT_FILENO) && !(no && *no) && !(terminal && std::string_view(terminal) == "dumb");
}

void add_screen_options(CLI::App& command, ScreenWords& w) {
  command.add_flag("--verbose", w.verbose, "tell every page and finding at length");
  command.add_option("--color", w.color, "auto (the default), always or never")->check(CLI::IsMember({"auto", "always", "never"}))->type_name("WHEN");
}

}  // namespace layright
