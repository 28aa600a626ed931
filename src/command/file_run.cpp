#include "command/file_run.h"

#include <poll.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdlib>
#include <deque>
#include <optional>
#include <utility>

#include "base/status_line.h"
#include "command/command.h"
#include "isolate/sandbox.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

/// Passes all on; the line that says how far the run is goes away before.
class WipingReport : public Report {
 public:
  WipingReport(Report& report, StatusLine& line) : report_(report), line_(line) {}
  void begin_file(FileHead const& head) override { line_.wipe(), report_.begin_file(head); }
  void page(PageSummary const& page) override { line_.wipe(), report_.page(page); }
  void end_file(FileHead const& head, FileTail const& tail) override { line_.wipe(), report_.end_file(head, tail); }
  void end_run(Verdict verdict) override { line_.wipe(), report_.end_run(verdict); }

 private:
  Report& report_;
  StatusLine& line_;
};

/// Who read standard output has closed it: what is still to be said would reach nobody.
bool nobody_listens() {
  pollfd out{STDOUT_FILENO, 0, 0};
  return poll(&out, 1, 0) > 0 && (out.revents & POLLERR);
}

FilesDone done_so_far(std::size_t files, std::size_t finished, long long pages_finished, std::deque<std::shared_ptr<CheckJob>> const& running) {
  FilesDone so_far{finished, files, pages_finished, files == 1 && !running.empty() ? running[0]->story().head().page_count : 0, 0};
  auto share = static_cast<double>(finished);
  for (auto const& job : running) {
    int const pages = job->story().pages(), of = job->story().head().page_count;
    so_far.pages += pages;
    if (job->story().over()) ++so_far.files;
    if (of > 0) share += std::min(1.0, static_cast<double>(pages) / of);
  }
  so_far.share = share / static_cast<double>(files);
  return so_far;
}

/// Customers' files were read with less around them than they should have.
void report_of_gaps(std::vector<std::string> const& gaps) {
  if (gaps.empty()) return;
  std::string missing;
  for (auto const& gap : gaps) missing += (missing.empty() ? "" : " and ") + gap;
  complain("warning: this machine lacks " + missing + ", which shuts hostile files in. See layright --version --verbose");
}

}  // namespace

ExitStatus run_files(std::vector<fs::path> const& files, MakeJob const& make, StatusOfJob const& status, Report& listener, int parallel) {
  std::deque<std::shared_ptr<CheckJob>> running;  // in the order named; the front one tells at once
  std::size_t started = 0, finished = 0;
  long long pages_finished = 0;
  StatusLine line;
  WipingReport report(listener, line);
  auto worst = ExitStatus::ready;
  Verdict verdict = Verdict::ready;
  std::optional<SandboxProbe> probe;
  if (static bool sandbox_was_asked = false; !std::exchange(sandbox_was_asked, true)) probe.emplace();
  auto const release_finished = [&] {
    while (!running.empty()) {
      auto& front = *running.front();
      front.story().release(report);
      if (!front.story().over()) return;
      worst = worse(worst, status(front));
      verdict = worse(verdict, front.story().tail().verdict);
      ++finished;
      pages_finished += front.story().pages();
      running.pop_front();
    }
  };
  auto const show_progress = [&] {
    release_finished();
    if (line.due()) line.put(words_of(done_so_far(files.size(), finished, pages_finished, running), line.seconds()));
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
      parallel, line.shown() ? std::function<void()>(show_progress) : nullptr, StatusLine::kEvery);
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
  command.add_flag("--verbose", w.verbose, "every page and every finding in full");
  command.add_option("--color", w.color, "auto (the default), always or never")->check(CLI::IsMember({"auto", "always", "never"}))->type_name("WHEN");
}

}  // namespace layright
