#include "report/html_report.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>
#include <vector>

#include "base/version.h"
#include "report/fix_command.h"
#include "report/html_page.h"
#include "report/html_text.h"

namespace layright {
namespace {

std::string verdict_html(std::string_view verdict) {
  std::string const w(verdict);
  return "<span class=\"word " + w + "\">" + w + "</span>";
}

struct CloseFile {
  void operator()(std::FILE* file) const { std::fclose(file); }
};
using Temporary = std::unique_ptr<std::FILE, CloseFile>;

/// "2 holds, 1 fix, 3 notes".
std::string level_counts(std::array<long, 3> const& by_level) {
  std::string text;
  for (Level const level : {Level::hold, Level::fix, Level::note}) {
    long const n = by_level[static_cast<std::size_t>(level)];
    if (n == 0) continue;
    std::string const plural = n == 1 ? "" : level == Level::fix ? "es" : "s";
    text += (text.empty() ? "" : ", ") + std::to_string(n) + " " + std::string(word(level)) + plural;
  }
  return text;
}

/// What waits for a person first.
constexpr std::array kOrder{Verdict::hold, Verdict::fix, Verdict::ready};

class HtmlReport : public Report {
 public:
  HtmlReport(std::FILE* out, Target const& target, ReportStyle style) : out_(out), target_(target), style_(std::move(style)) {
    for (auto& part : bodies_) part.reset(std::tmpfile());
    for (auto& part : indexes_) part.reset(std::tmpfile());
  }

  void begin_file(FileHead const&) override {
    ++files_;
    found_ = {};
    pages_.reset(std::tmpfile());  // a file's verdict comes after its pages, and is reported before them
  }

  void page(PageSummary const& page) override {
    put(pages_, html_page(page, files_, style_));
    count(page.findings);
  }

  void end_file(FileHead const& head, FileTail const& tail) override {
    count(tail.findings);
    for (auto const& [check, level] : found_.checks) ++files_with_[{level, check}];
    auto const verdict = std::string(word(tail.verdict));
    auto const part = static_cast<std::size_t>(tail.verdict);
    ++verdicts_[part];
    std::string const id = "file-" + std::to_string(files_), counted = level_counts(found_.levels);
    put(indexes_[part], "<li><a href=\"#" + id + "\">" + html_text(head.path) + "</a> " + verdict_html(verdict) +
                            (counted.empty() ? "" : " <span class=\"quiet\">" + counted + "</span>") + "</li>\n");
    auto& body = bodies_[part];
    std::string html = "<section class=\"file\" data-verdict=\"" + verdict + "\" aria-labelledby=\"" + id + "\">\n<h2 id=\"" + id + "\">" +
                       html_text(head.path) + " " + verdict_html(verdict) + "</h2>\n<p class=\"quiet\">" + std::to_string(head.page_count) +
                       (head.page_count == 1 ? " page" : " pages");
    if (!head.sha256.empty()) html += ", SHA-256 <code>" + html_text(head.sha256) + "</code>";
    html += "</p>\n";
    if (tail.verdict == Verdict::fix && style_.command == "check")
      html += "<p>Fix it with:</p><pre tabindex=\"0\"><code>" + html_text(fix_command(head.path, target_, style_)) + "</code></pre>\n";
    if (!tail.output.empty())
      html += "<p>Written to <code>" + html_text(tail.output) + "</code>" + (tail.verified ? ", read back and found the same" : ", not verified") +
              ".</p>\n";
    if (!tail.refusal.empty()) html += "<p>Nothing written: " + html_text(tail.refusal) + "</p>\n";
    auto const own = html_findings(holds_first(tail.findings), style_);
    bool const first = verdict_of(tail.findings) == Verdict::hold;  // else its pages may hold
    put(body, first ? html + own : html);
    copy(pages_, body.get());
    pages_.reset();
    put(body, (first ? std::string() : own) + "</section>\n");
  }

  void end_run(Verdict verdict) override {
    write(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\">\n<title>layright: " +
        std::string(word(verdict)) + ", " + std::to_string(files_) + (files_ == 1 ? " file" : " files") + "</title>\n<style>" + kHtmlStyle +
        "</style>\n</head>\n<body>\n<header>\n<h1>layright report: " + verdict_html(word(verdict)) + "</h1>\n<p>" + html_text(target_words()) +
        "</p>\n</header>\n<main>\n" + counts());
    if (files_ > 1) write_index();
    write(tools());
    for (Verdict const part : kOrder) copy(bodies_[static_cast<std::size_t>(part)], out_);
    write(std::string("</main>\n<footer><p class=\"quiet\">Written by layright ") + program_version() +
          ". Follow the data sheets of press and film: film that its maker does not "
          "rate for laser printers can melt on the hot fuser, and a heat press burns.</p></footer>\n<script>" +
          kHtmlScript + "</script>\n</body>\n</html>\n");
  }

 private:
  void write(std::string const& text) { std::fwrite(text.data(), 1, text.size(), out_); }

  static void put(Temporary const& to, std::string const& text) {
    if (to) std::fwrite(text.data(), 1, text.size(), to.get());
  }

  static void copy(Temporary const& from, std::FILE* to) {
    if (!from || !to) return;
    std::rewind(from.get());
    std::array<char, 1 << 16> buffer;
    for (std::size_t n = 0; (n = std::fread(buffer.data(), 1, buffer.size(), from.get())) > 0;) std::fwrite(buffer.data(), 1, n, to);
  }

  void count(std::vector<Finding> const& findings) {
    for (auto const& f : findings) {
      if (f.suppressed) continue;
      ++found_.levels[static_cast<std::size_t>(f.level)];
      auto& level = found_.checks.try_emplace(f.check, f.level).first->second;
      level = std::max(level, f.level);
    }
  }

  /// Which files wait for whom, and what was found in how many of them. Those that are ready are folded away.
  void write_index() {
    write("<nav class=\"index\" aria-labelledby=\"index\">\n<h2 id=\"index\">Files</h2>\n");
    for (Verdict const part : kOrder) {
      auto const n = verdicts_[static_cast<std::size_t>(part)];
      if (n == 0) continue;
      bool const folded = part == Verdict::ready && n > kMostReadyShown;
      if (folded) write("<details><summary>" + std::to_string(n) + " ready</summary>\n");
      write("<ul>\n");
      copy(indexes_[static_cast<std::size_t>(part)], out_);
      write(folded ? "</ul></details>\n" : "</ul>\n");
    }
    write("</nav>\n");
    if (files_with_.empty()) return;
    write(
        "<details><summary>What was found, in how many files</summary>\n<table class=\"found\">\n<tr><th scope=\"col\">Level</th><th "
        "scope=\"col\">Finding</th><th "
        "scope=\"col\">Files</th></tr>\n");
    for (auto row = files_with_.rbegin(); row != files_with_.rend(); ++row) {
      std::string const level(word(row->first.first));
      write("<tr><td><span class=\"word " + level + "\">" + level + "</span></td><td><code>" + html_text(row->first.second) + "</code></td><td>" +
            std::to_string(row->second) + "</td></tr>\n");
    }
    write("</table></details>\n");
  }

  std::string target_words() const {
    Sheet const& s = target_.sheet;
    std::string line = (target_.name.empty() ? std::string("Target by hand") : "Target " + target_.name) + ": " +
                       format_size(s.width, s.length, style_.unit) + ", " + (s.feed == Feed::short_edge ? "short" : "long") + " edge first, margin " +
                       format_length(s.margins.left, style_.unit);
    if (target_.reading == WantedReading::wrong) line += ", prints mirrored, by the " + std::string(word(target_.reverse_at));
    if (target_.reading == WantedReading::right) line += ", prints right-reading";
    return style_.assumed.empty() ? line : line + " (" + style_.assumed + ")";
  }

  std::string counts() const {
    auto const item = [](long n, char const* verdict, char const* meaning) {
      return "<li><strong>" + std::to_string(n) + "</strong> " + verdict_html(verdict) + " <span class=\"quiet\">" + meaning + "</span></li>\n";
    };
    return "<ul class=\"counts\">\n" + item(verdicts_[2], "hold", "someone must decide") + item(verdicts_[1], "fix", "layright lay does it") +
           item(verdicts_[0], "ready", "prints as it is") + "</ul>\n";
  }

  static std::string tools() {
    return "<div class=\"tools\" hidden><label for=\"show\">Show</label> <select id=\"show\"><option value=\"all\">all files</option><option "
           "value=\"hold\">hold only</option>"
           "<option value=\"fix\">fix only</option><option value=\"ready\">ready only</option></select> <span id=\"said\" "
           "role=\"status\"></span></div>\n";
  }

  static constexpr long kMostReadyShown = 5;
  struct FoundInFile {
    std::array<long, 3> levels{};  // by Level
    std::map<std::string, Level> checks;
  };

  std::FILE* out_;
  Target const target_;
  ReportStyle style_;
  std::array<Temporary, 3> bodies_, indexes_;  // by Verdict: the sections of its files, and their lines in the index
  Temporary pages_;
  int files_ = 0;
  FoundInFile found_;
  std::array<long, 3> verdicts_{};                            // by Verdict
  std::map<std::pair<Level, std::string>, long> files_with_;  // by level and check
};

}  // namespace

std::unique_ptr<Report> html_report(std::FILE* out, Target const& target, ReportStyle const& style) {
  return std::make_unique<HtmlReport>(out, target, style);
}

}  // namespace layright
