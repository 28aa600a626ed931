#include "command/short_report.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <functional>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "report/fix_command.h"
#include "report/short_words.h"

namespace layright {
namespace {

constexpr std::size_t kMostFileLines = 48;  // of a screen of 60, with what stands above and below
constexpr std::size_t kMostPagesReported = 4;
constexpr std::size_t kMostFindingsReported = 10;
constexpr std::size_t kIndent = 8;  // of what goes on in the next line

/// Each of the options goes with its value.
void drop_options(std::vector<std::string>& asked, std::span<std::string_view const> options) {
  for (std::size_t i = 0; i < asked.size();) {
    auto const first = asked.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::ranges::find(options, asked[i]) == options.end()) ++i;
    else asked.erase(first, first + std::min<std::ptrdiff_t>(2, asked.end() - first));
  }
}

/// Parts are put in the middle of their sheets, by their own edges.
void drop_words_of_place(std::vector<std::string>& asked) {
  drop_options(asked, std::array<std::string_view, 3>{"--by", "--at", "--offset"});
  std::erase(asked, "--allow-outside");
}

/// What helps takes the place of what was asked: a size, or how the art reads, is said once. `accepted`: what was accepted before, and stays so.
void ask_instead(std::vector<std::string>& asked, std::vector<std::string> options, std::vector<std::string> const& accepted) {
  constexpr std::array<std::string_view, 3> kSizes{"--scale", "--width", "--height"};
  auto const added = [&](std::string_view option) { return std::ranges::find(options, option) != options.end(); };
  if (std::ranges::any_of(kSizes, added)) drop_options(asked, kSizes);
  if (added("--incoming")) drop_options(asked, std::array<std::string_view, 1>{"--incoming"});
  drop_options(asked, std::array<std::string_view, 1>{"--accept"});
  std::string ids;
  for (auto const& id : accepted) ids += (ids.empty() ? "" : ",") + id;
  if (auto const accept = std::ranges::find(options, "--accept"); accept != options.end()) {
    if (!ids.empty()) accept[1] += "," + ids;
  } else if (!ids.empty()) {
    options.insert(options.end(), {"--accept", ids});
  }
  asked.insert(asked.end(), options.begin(), options.end());
}

/// One screen for a whole run: a line a file, holds first. Nothing is written before all of it is known.
class ShortReport : public Report {
 public:
  ShortReport(std::FILE* out, Target const& target, ReportStyle style) : out_(out), target_(target), style_(std::move(style)) {}

  void begin_file(FileHead const&) override { file_ = {}; }

  void page(PageSummary const& page) override {
    auto& file = file_;
    if (page.size && file.size.empty()) file.size = format_size(Length::points(page.size->width), Length::points(page.size->height), style_.unit);
    if (page.placement && file.placed.empty()) file.placed = placed_words(*page.placement, target_);
    bool const ready = (!page.reports_placement || page.placement) && !(page.placement && page.placement->reversed);
    file.all_ready = file.all_ready && ready;
    file.to_mirror = file.to_mirror || std::ranges::find(page.findings, "reading.reverse", &Finding::check) != page.findings.end();
    take(page.findings);
    auto words = page_words(page);
    if (file.groups.empty() || file.groups.back().words != words) file.groups.push_back({page.number, page.number, page.verdict, std::move(words)});
    else file.groups.back().last = page.number;
  }

  void end_file(FileHead const& head, FileTail const& tail) override {
    ++files_;
    take(tail.findings);
    // What another size fixes is no longer there once the rest is settled.
    std::stable_partition(file_.holds.begin(), file_.holds.end(), [](Finding const& f) { return !is_about_size(f.check); });
    bool const lay = style_.command != "check";
    std::string verdict(word(tail.verdict));
    if (tail.piece_ready) verdict = "ready";
    else if (lay) verdict = !tail.output.empty() ? "laid" : file_.holds.empty() ? "failed" : "hold";
    else if (tail.verdict == Verdict::ready && (!file_.all_ready || style_.reading_open)) verdict = "passed";
    ++verdicts_[verdict];
    for (auto const& check : file_.checks) ++found_[check];
    bool const quiet = verdict == "ready" && file_.notes.empty() && head.page_count > 0;
    if (quiet && files_ > 1) return;  // it is counted
    lines_[verdict].push_back(file_lines(head, tail, verdict));
    if (files_ == 1) {
      mirror_ = mirror_words(verdict);
      command_ = command_for(head, tail, verdict);
      tile_command_ = tile_command_for(head, verdict);
    }
  }

  void end_run(Verdict) override {
    if (files_ == 0) return;
    put(target_line(), 0);
    std::size_t reported = 0, left_out = 0;
    for (std::string const verdict : {"hold", "failed", "fix", "laid", "passed", "ready"})
      for (auto const& lines : lines_[verdict]) {
        std::size_t rows = 0;
        for (auto const& line : lines) rows += wrapped(std::string(kIndent, ' ') + line, kIndent).size();
        if (reported + rows > kMostFileLines) {
          ++left_out;
          continue;
        }
        reported += rows;
        put_verdict(verdict, verdict + std::string(kIndent - verdict.size(), ' ') + lines[0]);
        for (std::size_t i = 1; i < lines.size(); ++i) put(std::string(kIndent, ' ') + lines[i], kIndent);
      }
    if (left_out > 0) put("… and " + std::to_string(left_out) + " more files; --verbose lists all", 0);
    if (files_ == 1) {
      if (!mirror_.empty()) put(std::string(kIndent, ' ') + mirror_, kIndent);
      if (!command_.empty()) write(command_ + "\n");  // in one piece, fit to be copied
      if (!tile_command_.empty()) write(tile_command_ + "\n");
      return;
    }
    std::string counts, found;
    for (char const* verdict : {"hold", "failed", "fix", "laid", "passed", "ready"})
      if (verdicts_[verdict] > 0) counts += (counts.empty() ? "" : ", ") + std::to_string(verdicts_[verdict]) + " " + verdict;
    std::vector<int> often;
    for (auto const& [check, files] : found_) often.push_back(files);
    std::ranges::sort(often, std::greater());
    int const least = often.size() > kMostFindingsReported ? often[kMostFindingsReported] + 1 : 1;  // so often, or it is only counted
    std::size_t seldom = 0;
    for (auto const& [check, files] : found_)
      if (files < least) ++seldom;
      else found += (found.empty() ? "" : ", ") + check + " " + std::to_string(files);
    put(std::to_string(files_) + " files: " + counts, 0);
    if (seldom > 0) found += (found.empty() ? "" : ", and ") + std::to_string(seldom) + " other kinds";
    if (!found.empty()) put("found: " + found, 0);
  }

 private:
  struct Group {
    int first, last;
    Verdict verdict;
    std::string words;
  };
  struct File {
    std::string size, placed;
    bool all_ready = true, to_mirror = false;
    std::vector<Group> groups;
    std::vector<Finding> holds, notes;  // open ones; each check once
    std::vector<std::string> checks;
  };

  void take(std::vector<Finding> const& findings) {
    for (auto const& f : findings) {
      if (f.suppressed || is_always_fixed(f.check)) continue;
      bool const fresh = std::ranges::find(file_.checks, f.check) == file_.checks.end();
      if (fresh) file_.checks.push_back(f.check);
      auto& list = f.level == Level::hold && !f.accepted ? file_.holds : file_.notes;
      if (std::ranges::find(list, f.check, &Finding::check) == list.end()) list.push_back(f);
    }
  }

  /// What matters most of a page.
  std::string page_words(PageSummary const& page) const {
    if (page.is_plate) return "White plate.";
    Finding const* note = nullptr;
    for (auto const& f : page.findings) {
      if (f.level == Level::hold && !f.accepted) return held_words(f);
      if (!note && !f.accepted && f.level == Level::note && !is_always_fixed(f.check)) note = &f;
    }
    std::string text;
    bool const lay = style_.command != "check";
    if (page.placement && style_.command == "gang") text = piece_words(*page.placement) + ".";
    else if (page.placement && (lay || page.verdict == Verdict::fix))
      text = lay ? placed_words(*page.placement, target_) + "." : "Will be " + placed_words(*page.placement, target_) + ".";
    return text + (note ? (text.empty() ? "" : " ") + short_words(*note, style_.unit) : "");
  }

  /// `gang` has no --scale: each piece says its own size.
  std::string held_words(Finding const& f) const {
    auto words = short_words(f, style_.unit);
    constexpr std::string_view kScale = "Try --scale shrink";
    if (auto const at = words.find(kScale); style_.command == "gang" && at != std::string::npos)
      words.replace(at, kScale.size(), "Order it narrower: FILE@WIDTH");
    return words;
  }

  std::vector<std::string> file_lines(FileHead const& head, FileTail const& tail, std::string const& verdict) const {
    std::vector<std::string> lines{shown_name(head.path)};
    if (!tail.output.empty())
      lines[0] += " -> " + shown_name(tail.output) + (tail.plate_output.empty() ? "" : " and " + shown_name(tail.plate_output));
    else if (!file_.size.empty()) lines[0] += ", " + file_.size;
    if (head.page_count > 1) lines[0] += ", " + std::to_string(head.page_count) + " pages";
    auto const add = [&](std::string const& words) {
      if (!words.empty()) lines[0] += ": " + words;
    };
    if (verdict == "failed") return add(shown_name(tail.refusal)), lines;
    if (!file_.holds.empty() && head.page_count == 0 && file_.holds[0].check == "file.damaged") {
      add(std::string(kUnreadableFile));
    } else if (!file_.holds.empty()) {
      add(held_words(file_.holds[0]));
      if (head.page_count <= 1)
        for (std::size_t i = 1; i < file_.holds.size(); ++i) lines.push_back(held_words(file_.holds[i]));
    } else if (file_.groups.size() == 1 || head.page_count <= 1) {
      add(file_.groups.empty() ? std::string() : file_.groups[0].words);
      if (tail.output.empty() || tail.verified) return lines;
    } else if (file_.groups.empty() && !file_.notes.empty()) {
      add(short_words(file_.notes[0], style_.unit));
    }
    if (!tail.output.empty() && !tail.verified) lines.push_back("NOT verified");
    if (file_.groups.size() > 1) {
      for (std::size_t i = 0; i < std::min(file_.groups.size(), kMostPagesReported); ++i) {
        auto const& g = file_.groups[i];
        std::string const pages =
            g.first == g.last ? "page " + std::to_string(g.first) : "pages " + std::to_string(g.first) + "-" + std::to_string(g.last);
        lines.push_back(pages + ": " + std::string(word(g.verdict)) + (g.words.empty() ? "" : ": " + g.words));
      }
      if (file_.groups.size() > kMostPagesReported) lines.push_back("and other pages; --verbose lists all");
    }
    return lines;
  }

  std::vector<std::string> accepted_checks() const {
    std::vector<std::string> ids;
    for (auto const& f : file_.notes)
      if (f.accepted) ids.push_back(f.check);
    return ids;
  }

  /// What to type next, where it is one file.
  std::string command_for(FileHead const& head, FileTail const& tail, std::string const& verdict) const {
    if (style_.reading_open || style_.command == "gang") return {};
    if (verdict == "fix") return "To lay it: " + fix_command(head.path, target_, style_);
    if (verdict != "hold" || file_.groups.empty()) return {};
    auto const options = options_that_help(file_.holds);
    if (options.empty()) return {};
    ReportStyle with = style_;
    ask_instead(with.asked, options, accepted_checks());
    return "Once you have looked: " +
           (tail.wanted_output.empty() ? fix_command(head.path, target_, with) : laying_command(head.path, tail.wanted_output, target_, with));
  }

  /// The other way out for art that is larger than the sheet.
  std::string tile_command_for(FileHead const& head, std::string const& verdict) const {
    auto const large = std::ranges::find_if(file_.holds, [](Finding const& f) { return f.check == "ink.size" && sheets_of(f) > 1; });
    bool const size_unknown = std::ranges::find(file_.holds, "picture.density", &Finding::check) != file_.holds.end();
    if (verdict != "hold" || style_.command == "tile" || large == file_.holds.end() || size_unknown) return {};
    ReportStyle with = style_;
    with.command = "tile";
    drop_words_of_place(with.asked);
    std::vector<Finding> others;
    for (auto const& f : file_.holds)
      if (f.check != "ink.size") others.push_back(f);
    auto const options = others.empty() ? std::vector<std::string>() : options_that_help(others);
    if (options.empty() && !others.empty()) return {};
    ask_instead(with.asked, options, accepted_checks());
    return "Or part it over " + std::to_string(sheets_of(*large)) + " sheets: " + fix_command(head.path, target_, with);
  }

  /// What the person at the press must know; the dearest mistake is to mirror twice.
  std::string mirror_words(std::string const& verdict) const {
    if (target_.reading == WantedReading::as_is || (verdict != "fix" && verdict != "laid" && verdict != "ready")) return {};
    std::string const keep = reverses_later(target_) ? "Keep mirror ON in the " + std::string(word(target_.reverse_at)) + ", OFF elsewhere."
                                                     : "Keep mirror OFF at the press.";
    if (!file_.to_mirror || verdict != "fix") return keep;
    if (target_.reading == WantedReading::wrong && !reverses_later(target_)) return "Not mirrored yet. `lay` mirrors it. " + keep;
    return "It would print the wrong way round. `lay` mirrors it. " + keep;
  }

  std::string target_line() const {
    Sheet const& s = target_.sheet;
    std::string line = "Sheet " + format_size(s.width, s.length, style_.unit) + ", " + (s.feed == Feed::short_edge ? "short" : "long") +
                       " edge first, margin " + format_length(s.margins.left, style_.unit);
    if (style_.reading_open) line += ", mirrored or not: not said";
    else if (target_.reading == WantedReading::as_is) line += ", as it comes";
    else line += target_.reading == WantedReading::wrong ? ", printed mirrored" : ", printed right-reading";
    if (target_.reading != WantedReading::as_is && reverses_later(target_)) line += ", mirror ON in the " + std::string(word(target_.reverse_at));
    if (!target_.name.empty()) line += " (" + target_.name + ")";
    return line;
  }

  /// A line as the rows of a terminal; further ones are indented. A name without a space is never cut: it must stay fit to be copied.
  std::vector<std::string> wrapped(std::string line, std::size_t indent) const {
    std::vector<std::string> rows;
    std::size_t const width = columns();
    while (width > 20 && line.size() > width) {
      auto const at = line.rfind(' ', width);
      if (at == std::string::npos || at <= indent) break;
      rows.push_back(line.substr(0, at));
      line = std::string(indent, ' ') + line.substr(at + 1);
    }
    rows.push_back(std::move(line));
    return rows;
  }
  void put(std::string const& line, std::size_t indent) {
    for (auto const& row : wrapped(line, indent)) write(row + "\n");
  }
  /// A line that begins with `verdict`, which is colored where that is wanted.
  void put_verdict(std::string const& verdict, std::string const& line) {
    auto rows = wrapped(line, kIndent);
    rows[0].replace(0, verdict.size(), coloured(verdict));
    for (auto const& row : rows) write(row + "\n");
  }
  void write(std::string const& text) { std::fwrite(text.data(), 1, text.size(), out_); }

  /// Of the terminal; 0 where there is none.
  std::size_t columns() const {
    winsize size{};
    return isatty(fileno(out_)) && ioctl(fileno(out_), TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
  }

  std::string coloured(std::string const& verdict) const {
    if (!style_.colour) return verdict;
    bool const bad = verdict == "hold" || verdict == "failed";
    return "\033[" + std::string(bad ? "31" : verdict == "fix" ? "33" : "32") + "m" + verdict + "\033[0m";
  }

  std::FILE* out_;
  Target const target_;
  ReportStyle style_;
  File file_;
  std::size_t files_ = 0;
  std::map<std::string, std::vector<std::vector<std::string>>> lines_;  // by verdict
  std::map<std::string, int> verdicts_, found_;                         // files
  std::string command_, tile_command_, mirror_;                         // of the first file, where it is the only one
};

}  // namespace

std::unique_ptr<Report> short_report(std::FILE* out, Target const& target, ReportStyle const& style) {
  return std::make_unique<ShortReport>(out, target, style);
}

}  // namespace layright
