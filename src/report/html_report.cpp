#include "report/html_report.h"

#include <algorithm>
#include <array>

#include "report/html_page.h"
#include "report/html_text.h"
#include "report/mending_command.h"

namespace layright {
namespace {

std::string verdict_html(std::string_view verdict) {
  std::string const w(verdict);
  return "<span class=\"word " + w + "\">" + w + "</span>";
}

class HtmlReport : public Report {
 public:
  HtmlReport(std::FILE* out, Target const& target, ReportStyle style) : out_(out), target_(target), style_(std::move(style)), body_(std::tmpfile()) {}
  ~HtmlReport() override {
    if (body_) std::fclose(body_);
  }

  void begin_file(FileHead const&) override {
    ++files_;
    pages_ = std::tmpfile();  // a file's verdict comes after its pages, and is told before them
  }

  void page(PageSummary const& page) override {
    auto const html = html_page(page, files_, style_);
    if (pages_) std::fwrite(html.data(), 1, html.size(), pages_);
  }

  void end_file(FileHead const& head, FileTail const& tail) override {
    auto const verdict = std::string(word(tail.verdict));
    ++verdicts_[static_cast<std::size_t>(tail.verdict)];
    std::string const id = "file-" + std::to_string(files_);
    std::string html = "<section class=\"file\" data-verdict=\"" + verdict + "\" aria-labelledby=\"" + id + "\">\n<h2 id=\"" + id + "\">" +
                       html_text(head.path) + " " + verdict_html(verdict) + "</h2>\n<p class=\"quiet\">" + std::to_string(head.page_count) +
                       (head.page_count == 1 ? " page" : " pages");
    if (!head.sha256.empty()) html += ", SHA-256 <code>" + html_text(head.sha256) + "</code>";
    html += "</p>\n";
    if (tail.verdict == Verdict::fix && style_.command == "check")
      html += "<p>Mend it with:</p><pre tabindex=\"0\"><code>" + html_text(mending_command(head.path, target_, style_)) + "</code></pre>\n";
    if (!tail.output.empty())
      html += "<p>Written to <code>" + html_text(tail.output) + "</code>" + (tail.verified ? ", read back and found the same" : ", not verified") +
              ".</p>\n";
    if (!tail.refusal.empty()) html += "<p>Nothing written: " + html_text(tail.refusal) + "</p>\n";
    html += html_findings(tail.findings, style_);
    put(html);
    if (pages_) copy(pages_, body_);
    if (pages_) std::fclose(pages_);
    pages_ = nullptr;
    put("</section>\n");
  }

  void end_run(Verdict verdict) override {
    std::string const head =
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\">\n"
        "<title>layright: " +
        std::string(word(verdict)) + ", " + std::to_string(files_) + (files_ == 1 ? " file" : " files") + "</title>\n<style>" + kHtmlStyle +
        "</style>\n</head>\n<body>\n<header>\n<h1>layright report: " + verdict_html(word(verdict)) + "</h1>\n<p>" + html_text(target_words()) +
        "</p>\n</header>\n<main>\n" + counts() + tools();
    write(head);
    if (body_) copy(body_, out_);
    write(std::string("</main>\n<footer><p class=\"quiet\">Written by layright " LAYRIGHT_VERSION
                      ". Follow the data sheets of press and film: film that its maker does not "
                      "rate for laser printers can melt on the hot fuser, and a heat press burns.</p></footer>\n<script>") +
          kHtmlScript + "</script>\n</body>\n</html>\n");
  }

 private:
  void put(std::string const& text) {
    if (body_) std::fwrite(text.data(), 1, text.size(), body_);
  }
  void write(std::string const& text) { std::fwrite(text.data(), 1, text.size(), out_); }

  static void copy(std::FILE* from, std::FILE* to) {
    std::rewind(from);
    std::array<char, 1 << 16> buffer;
    for (std::size_t n = 0; (n = std::fread(buffer.data(), 1, buffer.size(), from)) > 0;)
      if (to) std::fwrite(buffer.data(), 1, n, to);
  }

  std::string target_words() const {
    Sheet const& s = target_.sheet;
    std::string line = (target_.name.empty() ? std::string("Target by hand") : "Target " + target_.name) + ": " +
                       format_size(s.width, s.length, style_.unit) + ", " + (s.feed == Feed::short_edge ? "short" : "long") + " edge first, margin " +
                       format_length(s.margins.left, style_.unit);
    if (target_.reading != WantedReading::as_is)
      line += ", the printed sheet reads " + std::string(word(target_.reading)) + ", reversed in the " + std::string(word(target_.reverse_at));
    return style_.assumed.empty() ? line : line + " (" + style_.assumed + ")";
  }

  std::string counts() const {
    auto const item = [](long n, char const* verdict, char const* meaning) {
      return "<li><strong>" + std::to_string(n) + "</strong> " + verdict_html(verdict) + " <span class=\"quiet\">" + meaning + "</span></li>\n";
    };
    return "<ul class=\"counts\">\n" + item(verdicts_[2], "hold", "a person must decide") + item(verdicts_[1], "fix", "layright lay mends it") +
           item(verdicts_[0], "ready", "can be printed as it is") + "</ul>\n";
  }

  static std::string tools() {
    return "<div class=\"tools\" hidden><label for=\"show\">Show</label> <select id=\"show\"><option value=\"all\">all files</option><option "
           "value=\"hold\">hold only</option>"
           "<option value=\"fix\">fix only</option><option value=\"ready\">ready only</option></select> <span id=\"said\" "
           "role=\"status\"></span></div>\n";
  }

  std::FILE* out_;
  Target const target_;
  ReportStyle style_;
  std::FILE* body_;
  std::FILE* pages_ = nullptr;
  int files_ = 0;
  std::array<long, 3> verdicts_{};  // by Verdict
};

}  // namespace

std::unique_ptr<Report> html_report(std::FILE* out, Target const& target, ReportStyle const& style) {
  return std::make_unique<HtmlReport>(out, target, style);
}

}  // namespace layright
