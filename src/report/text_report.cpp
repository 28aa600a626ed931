#include <algorithm>

#include "geometry/length.h"
#include "report/mending_command.h"
#include "report/report.h"

namespace layright {
namespace {

class TextReport : public Report {
 public:
  TextReport(std::FILE* out, Target const& target, ReportStyle style) : out_(out), target_(target), style_(std::move(style)) {}

  void begin_file(FileHead const&) override {
    if (!said_target_) put(target_line() + "\n");
    said_target_ = true;
  }

  void page(std::string const& json) override {
    Json const page = Json::parse(json);
    auto const& findings = page["findings"];
    pages_ += 1;
    std::string const verdict = page.value("verdict", "hold");
    std::string line = "  page " + std::to_string(page.value("number", 0)) + ": " + coloured(verdict);
    if (auto const lies = summary(page); !lies.empty()) line += "; " + lies;
    put(line + "\n");
    auto const told = [](Json const& f) { return f.value("check", "").starts_with("reading."); };
    if (page.contains("reading_sentence") && std::none_of(findings.begin(), findings.end(), told))
      put("    reading: " + shown_name(page.value("reading_sentence", "")) + "\n");
    if (page.contains("reading_words")) put("    letters read: " + words_of(page["reading_words"]) + "\n");
    for (auto const& f : findings) put_finding(f.value("check", ""), f.value("level", ""), f.value("message", ""), f.value("accepted", false));
  }

  void end_file(FileHead const& head, FileTail const& tail) override {
    for (auto const& f : told_and_suppressed(tail.findings).first) put_finding(f.check, std::string(word(f.level)), f.message, f.accepted);
    std::string line = shown_name(head.path) + ": ";
    if (style_.command == "lay") {
      line += tail.output.empty() ? coloured("hold") + ", nothing written: " + shown_name(tail.refusal)
                                  : "written to " + shown_name(tail.output) + (tail.verified ? ", read back and found the same" : ", NOT verified");
    } else {
      line += coloured(std::string(word(tail.verdict)));
      if (tail.verdict == Verdict::fix) line += "; mend it with: " + mending_command(head.path, target_, style_);
    }
    put(line + "\n");
    ++files_;
  }

  void end_run(Verdict verdict) override {
    if (style_.command == "check") put("verdict: " + coloured(std::string(word(verdict))) + "\n");
  }

 private:
  void put(std::string const& text) { std::fwrite(text.data(), 1, text.size(), out_); }

  void put_finding(std::string const& check, std::string const& level, std::string const& message, bool accepted) {
    // What lay has mended is no more to be done.
    std::string const said = style_.command == "lay" && level == "fix" ? "mends" : level;
    put("    " + said + (accepted ? " (accepted)" : "") + " " + check + ": " + shown_name(message) + "\n");
  }

  /// So that a person can agree with what was read.
  static std::string words_of(Json const& words) {
    std::string line;
    for (auto const& w : words) line += (line.empty() ? "" : ", ") + shown_name(w.get<std::string>());
    return line;
  }

  std::string target_line() const {
    Sheet const& s = target_.sheet;
    auto const& m = s.margins;
    std::string line = "target " + (target_.name.empty() ? "(by hand)" : target_.name) + ": " + format_size(s.width, s.length, style_.unit) +
                       ", " + std::string(s.feed == Feed::short_edge ? "short" : "long") + " edge first, margin " +
                       format_length(m.left, style_.unit);
    if (m.left != m.right || m.left != m.top || m.left != m.bottom)
      line += " left, " + format_length(m.bottom, style_.unit) + " bottom, " + format_length(m.right, style_.unit) + " right, " +
              format_length(m.top, style_.unit) + " top";
    line += target_.reading == WantedReading::as_is
                ? ", reads as it comes"
                : ", the printed sheet reads " + std::string(word(target_.reading)) + ", reversed in the " + std::string(word(target_.reverse_at));
    if (target_.press.correct)
      line += target_.press.trial ? ", corrected for the press as tried on " + target_.press.trial->date
                                  : ", not corrected: the press " + shown_name(target_.press.name) + " has not been tried (layright trial)";
    return style_.assumed.empty() ? line : line + " (" + style_.assumed + ")";
  }

  /// What `lay` would do, or did, in a few words.
  std::string summary(Json const& page) const {
    std::string text;
    if (page.contains("seen_size_pt")) {
      auto const& size = page["seen_size_pt"];
      text = format_size(Length::points(size[0].get<double>()), Length::points(size[1].get<double>()), style_.unit);
    }
    if (text.empty()) return "it cannot be looked at";
    if (page.contains("reading"))
      text += ", reads " + page.value("reading", "") + (page.value("reading_from", "none") == "none" ? "" : " (" + page.value("reading_from", "") + ")");
    if (!page.contains("placement")) return text;
    auto const& p = page["placement"];
    if (p.is_null()) return text + "; lay would refuse it";
    text += style_.command == "lay" ? "; laid at " : "; lay puts it on at ";
    text += format_number(p.value("scale", 1.0) * 100, 2) + "%";
    if (int const turn = p.value("turn", 0)) text += ", turned " + std::to_string(turn);
    if (p.value("reversed", false)) text += ", reversed";
    if (p.contains("correction")) text += ", corrected for the press";
    if (p.value("outside_live_area", false)) text += ", OUTSIDE the live area";
    return text;
  }

  std::string coloured(std::string const& verdict) const {
    if (!style_.colour) return verdict;
    char const* code = verdict == "ready" ? "32" : verdict == "fix" ? "33" : "31";
    return "\033[" + std::string(code) + "m" + verdict + "\033[0m";
  }

  std::FILE* out_;
  Target const target_;
  ReportStyle style_;
  bool said_target_ = false;
  int files_ = 0, pages_ = 0;
};

}  // namespace

std::unique_ptr<Report> text_report(std::FILE* out, Target const& target, ReportStyle const& style) {
  return std::make_unique<TextReport>(out, target, style);
}

}  // namespace layright
