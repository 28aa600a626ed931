#include <algorithm>

#include "geometry/length.h"
#include "report/fix_command.h"
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

  /// Pages after one of which the same is to be reported are told in one line.
  void page(PageSummary const& page) override {
    all_ready_ = all_ready_ && is_ready(page);
    std::string text = page_text(page);
    if (text == reported_text_ && page.number == last_ + 1) {
      last_ = page.number;
      return;
    }
    report_same();
    put("  page " + std::to_string(page.number) + text);
    reported_text_ = std::move(text);
    first_ = last_ = page.number;
  }

  void end_file(FileHead const& head, FileTail const& tail) override {
    report_same();
    reported_text_.clear();
    for (auto const& f : tail.findings)
      if (!f.suppressed) put(finding_text(f));
    std::string line = shown_name(head.path) + ": ";
    if (tail.piece_ready) {
      line += coloured("ready");
    } else if (style_.command != "check") {
      line += tail.output.empty() ? coloured("hold") + ", nothing written: " + shown_name(tail.refusal)
                                  : "written to " + shown_name(tail.output) + (tail.verified ? ", read back and found the same" : ", NOT verified");
      if (!tail.accept.empty())
        line += "\n    if you have looked and there is nothing to hold it for: " + accepting_command(head.path, tail, target_, style_);
    } else {
      bool const passed = tail.verdict == Verdict::ready && !all_ready_;
      line += coloured(passed ? "passed" : std::string(word(tail.verdict)));
      run_passed_ = run_passed_ || passed;
      if (tail.verdict == Verdict::fix) line += "; fix it with: " + fix_command(head.path, target_, style_);
    }
    put(line + "\n");
    all_ready_ = true;
  }

  void end_run(Verdict verdict) override {
    bool const passed = verdict == Verdict::ready && run_passed_;
    if (style_.command == "check") put("verdict: " + coloured(passed ? "passed" : std::string(word(verdict))) + "\n");
  }

 private:
  void put(std::string const& text) { std::fwrite(text.data(), 1, text.size(), out_); }

  void report_same() {
    std::string const to = std::to_string(last_), first = std::to_string(first_);
    if (last_ == first_ + 1) put("  page " + to + ": as page " + first + "\n");
    if (last_ > first_ + 1) put("  pages " + std::to_string(first_ + 1) + " to " + to + ": as page " + first + "\n");
    first_ = last_;
  }

  /// Where only some checks were asked for, nothing found is not yet ready: not while `lay` would refuse the page, or must still mirror it.
  static bool is_ready(PageSummary const& page) {
    return page.verdict == Verdict::ready && (!page.reports_placement || page.placement) && !(page.placement && page.placement->reversed);
  }
  static std::string verdict_word(PageSummary const& page) {
    return page.verdict == Verdict::ready && !is_ready(page) ? "passed" : std::string(word(page.verdict));
  }

  /// All that is told of a page, but its number.
  std::string page_text(PageSummary const& page) const {
    std::string text = (page.member.empty() ? "" : " (" + shown_name(page.member) + ")") + ": " + coloured(verdict_word(page));
    if (auto const lies = summary(page); !lies.empty()) text += "; " + lies;
    text += "\n";
    auto const reported = [](Finding const& f) { return f.check.starts_with("reading."); };
    if (!page.reading_sentence.empty() && std::none_of(page.findings.begin(), page.findings.end(), reported))
      text += "    reading: " + shown_name(page.reading_sentence) + "\n";
    if (page.reading && !page.reading->words.empty()) text += "    letters read: " + words_of(page.reading->words) + "\n";
    for (auto const& f : page.findings) text += finding_text(f);
    return text;
  }

  std::string finding_text(Finding const& f) const {
    // What lay has fixed is no more to be done.
    std::string const said(style_.command != "check" && f.level == Level::fix ? "fixes" : word(f.level));
    return "    " + said + (f.accepted ? " (accepted)" : "") + " " + f.check + ": " + shown_name(f.message) + "\n";
  }

  /// So that a person can agree with what was read.
  static std::string words_of(std::vector<std::string> const& words) {
    std::string line;
    for (auto const& w : words) line += (line.empty() ? "" : ", ") + shown_name(w);
    return line;
  }

  std::string target_line() const {
    Sheet const& s = target_.sheet;
    auto const& m = s.margins;
    std::string line = "target " + (target_.name.empty() ? "(by hand)" : target_.name) + ": " + format_size(s.width, s.length, style_.unit) + ", " +
                       std::string(s.feed == Feed::short_edge ? "short" : "long") + " edge first, margin " + format_length(m.left, style_.unit);
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
  std::string summary(PageSummary const& page) const {
    if (!page.size) return "it cannot be looked at";
    std::string text = format_size(Length::points(page.size->width), Length::points(page.size->height), style_.unit);
    if (page.reading)
      text += ", reads " + reading_word(page) + (page.reading->from.empty() || page.reading->from == "none" ? "" : " (" + page.reading->from + ")");
    if (page.is_plate) return text + ", a white plate by itself";
    if (!page.reports_placement) return text;
    if (!page.placement) return text + "; lay would refuse it";
    bool const held = page.verdict == Verdict::hold;
    text += style_.command != "check" ? (held ? "; would be laid at " : "; to be laid at ")
            : held                    ? "; lay would put it on at "
                                      : "; lay puts it on at ";
    auto const& place = *page.placement;
    text += format_number(page.of_original.value_or(place.scale) * 100, 2) + (page.of_original ? "% of the original" : "%");
    bool const alone = style_.command != "gang";  // else its turn is the sheet's to say
    if (alone && place.turn != Turn::none) text += ", turned " + std::to_string(degrees(place.turn));
    if (place.reversed) text += ", reversed";
    if (place.reversed_later) text += mirrored_words(place);
    if (place.correction != Matrix<SheetSpace, SheetSpace>{}) text += ", corrected for the press";
    if (place.outside) text += ", OUTSIDE the live area";
    if (page.plate) text += "; " + plate_words(*page.plate, style_.unit);
    if (page.toner) text += "; toner " + shown_name(toner_words(*page.toner));
    return text;
  }

  /// Turn, place and margins are asked for as the printed sheet shows them.
  std::string mirrored_words(Placement const& place) const {
    std::string const who(word(target_.reverse_at));
    Turn const printed = turn_seen(place.turn, true);
    return ", mirrored in place" + (place.turn != printed ? " and turn" : std::string()) + " for the " + who + "'s reversal" +
           (printed != Turn::none ? " (the printed sheet shows it turned " + std::to_string(degrees(printed)) + ")" : "");
  }

  std::string coloured(std::string const& verdict) const {
    if (!style_.colour) return verdict;
    char const* code = verdict == "ready" || verdict == "passed" ? "32" : verdict == "fix" ? "33" : "31";
    return "\033[" + std::string(code) + "m" + verdict + "\033[0m";
  }

  std::FILE* out_;
  Target const target_;
  ReportStyle style_;
  bool said_target_ = false;
  bool all_ready_ = true, run_passed_ = false;  // the pages of this file; some file had pages that were not
  std::string reported_text_;                   // of the page last told …
  int first_ = 0, last_ = 0;                    // … which was page first_; the pages after it up to last_ are the same
};

}  // namespace

std::unique_ptr<Report> text_report(std::FILE* out, Target const& target, ReportStyle const& style) {
  return std::make_unique<TextReport>(out, target, style);
}

}  // namespace layright
