#include "report/paper_module/job_sheet_layout.h"

#include <algorithm>
#include <utility>

#include "report/paper_module/barcode.h"
#include "report/report.h"

namespace layright {
namespace {

constexpr double kMargin = 34, kGap = 12;
constexpr double kLargest = 9, kSmallest = 6;  // of the ticks' letters
constexpr double kLargeRow = 43, kLargeWords = 37, kCaption = 58;
constexpr double kModule = 1.1, kBarcodeHigh = 32;  // points
constexpr double kPictures = 152;                   // the column of the pages
static_assert(kLargeWords >= kLargeLetters);

/// As much of it as goes into the room; a letter is never cut in two.
std::string cut(PaperCanvas& pen, std::string const& text, double room, double size, Face face) {
  if (pen.width(text, size, face) <= room) return text;
  return pen.wrapped(text, room - pen.width("…", size, face), size, face).front() + "…";
}

class Layout {
 public:
  Layout(PaperCanvas& pen, JobSheet const& sheet, double width, double height) : pen_(pen), sheet_(sheet), width_(width), height_(height) {}

  void draw() {
    double const below = large(head()) - kGap, floor = cautions() + 8;
    draw_page_pictures(pen_, sheet_, kMargin, floor, kMargin + kPictures, below);
    lists(facts(below - 9), floor);
  }

 private:
  double right() const { return width_ - kMargin; }
  /// The column right of the pictures.
  double column() const { return kMargin + kPictures + 16; }

  /// What to print, and its number; gives where it ends.
  double head() {
    double const top = height_ - kMargin;
    double const job = sheet_.job.empty() ? right() : barcode(top) - 20;
    pen_.text(kMargin, top - 8, sheet_.file ? "Print this file" : "Job sheet", 8, Face::regular, 0.35);
    std::string name =
        sheet_.file ? shown_name(sheet_.file->name) : "for " + (sheet_.target.name.empty() ? "any file" : shown_name(sheet_.target.name));
    if (name.empty()) name = "(no name)";
    double size = 16;
    auto lines = pen_.wrapped(name, job - kMargin, size, Face::bold);
    while (lines.size() > 2 && size > 7) lines = pen_.wrapped(name, job - kMargin, size -= 0.5, Face::bold);
    constexpr std::size_t kMostLines = 4;
    if (lines.size() > kMostLines) lines.resize(kMostLines - 1), lines.emplace_back("… (the digest tells which file it is)");
    double y = top - 10;
    for (auto const& line : lines) pen_.text(kMargin, y -= size * 1.15, line, size, Face::bold);
    return std::min(y - 8, top - kBarcodeHigh - 22);
  }

  /// At the upper right; gives its left edge.
  double barcode(double top) {
    auto const bars = code_128(sheet_.job);
    double const left = right() - (bars.width + kQuietModules) * kModule;
    for (auto const& bar : bars.bars) pen_.fill(left + bar.from * kModule, top - kBarcodeHigh, left + (bar.from + bar.width) * kModule, top, 0);
    pen_.centred(left + bars.width * kModule / 2, top - kBarcodeHigh - 14, "Job " + sheet_.job, 13, Face::bold);
    return left - kQuietModules * kModule;
  }

  /// Five lines that are read from two meters; gives where they end.
  double large(double top) {
    LargeWords const& words = sheet_.large;
    double y = top;
    auto const row = [&](char const* caption, std::string const& text, bool loud) {
      double const foot = y - kLargeRow;
      if (loud) pen_.fill(kMargin, foot, right(), y, 0);
      pen_.text(kMargin + 6, foot + 13, caption, 9, Face::regular, loud ? 1 : 0.35);
      pen_.text(kMargin + kCaption, foot + 10, cut(pen_, shown_name(text), right() - kMargin - kCaption - 6, kLargeWords, Face::bold), kLargeWords,
                Face::bold, loud ? 1 : 0);
      y = foot;
      pen_.line(kMargin, y, right(), y, 0.5, 0.6);
    };
    row("Sheet", words.sheet, false);
    row("Tray", words.tray, false);
    row("Feed", words.edge, false);
    row("Side up", words.side, false);
    row("At press", words.mirror, true);
    pen_.box(kMargin, y, right(), top, 1.4);
    return y;
  }

  /// Small print about the job; gives where it ends.
  double facts(double y) {
    Target const& target = sheet_.target;
    auto const say = [&](char const* label, std::string const& value, double size = 8.5) {
      pen_.text(column(), y, label, 7.5, Face::regular, 0.35);
      auto lines = pen_.wrapped(value, right() - column() - 62, size);
      if (lines.size() > 2) lines.resize(2), lines.back() += " …";
      for (auto const& line : lines) {
        pen_.text(column() + 62, y, line, size);
        y -= size * 1.3;
      }
      y -= 1.5;
    };
    std::string names = target.name.empty() ? std::string("by hand") : shown_name(target.name);
    if (!target.press.name.empty()) names += ", press " + shown_name(target.press.name);
    say("Target", names);
    say("Date", sheet_.date);
    for (auto const& line : sheet_.released) say("Released", shown_name(line));
    if (!sheet_.file) return y;
    if (!sheet_.file->toner.empty()) say("Toner", shown_name(sheet_.file->toner) + " a copy, estimated");
    auto const& digest = sheet_.file->sha256;
    say("Digest", digest.substr(0, 32) + " " + digest.substr(std::min<std::size_t>(32, digest.size())), 6.5);
    return y;
  }

  /// At the foot, in a frame; gives its top.
  double cautions() {
    constexpr double kSize = 7.5, kSign = 34;
    double const room = right() - kMargin - kSign - 16;
    std::vector<std::string> lines;
    for (auto const& caution : sheet_.cautions)
      for (auto const& line : pen_.wrapped(caution, room, kSize)) lines.push_back(line);
    double const height = std::max(40.0, 10 + static_cast<double>(lines.size()) * kSize * 1.32 + 4), top = kMargin + height;
    pen_.box(kMargin, kMargin, right(), top, 1.4);
    double const middle = kMargin + 8 + kSign / 2, base = kMargin + height / 2 - 14;
    pen_.polygon({{middle - 16, base}, {middle + 16, base}, {middle, base + 28}});
    pen_.centred(middle, base + 4, "!", 17, Face::bold, 1);
    double y = top - 6 - kSize;
    for (auto const& line : lines) {
      pen_.text(kMargin + kSign + 16, y, line, kSize);
      y -= kSize * 1.32;
    }
    return top;
  }

  struct Row {
    std::string heading;  // empty: a line of what else to mind
    std::vector<std::string> lines;
    double height = 0;
  };

  std::vector<Row> rows(double size) {
    std::vector<Row> result;
    for (auto const& step : sheet_.ticks)
      result.push_back({shown_name(step.heading), pen_.wrapped(shown_name(step.text), right() - column() - text_left(size), size), 0});
    for (auto const& line : sheet_.notes) result.push_back({"", pen_.wrapped(shown_name(line), right() - column() - 14, size), 0});
    for (auto& row : result) row.height = std::max(1.0, static_cast<double>(row.lines.size())) * size * 1.25 + size * 0.55;
    return result;
  }
  static double text_left(double size) { return 16 + size * 6.6; }

  void lists(double top, double bottom) {
    double size = kLargest;
    auto all = rows(size);
    double const titles = 36;
    auto const total = [&] {
      double sum = titles;
      for (auto const& row : all) sum += row.height;
      return sum;
    };
    while (total() > top - bottom && size > kSmallest) all = rows(size -= 0.25);
    std::size_t left_out = 0;
    if (total() > top - bottom)
      while (total() + 12 > top - bottom && all.size() > 1) all.pop_back(), ++left_out;
    double y = title("Tick off", top);
    bool mind = false;
    for (auto const& row : all) {
      if (row.heading.empty() && !mind) y = title("Mind", y - 4), mind = true;
      draw_row(row, size, y);
      y -= row.height;
    }
    if (left_out > 0)
      pen_.text(column() + 14, y - size, "… and " + std::to_string(left_out) + " more: layright setup --as text tells all", size, Face::bold);
  }

  double title(char const* text, double y) {
    pen_.text(column(), y - 9, text, 10, Face::bold);
    pen_.line(column(), y - 12.5, right(), y - 12.5, 0.5, 0.5);
    return y - 16;
  }

  void draw_row(Row const& row, double size, double top) {
    double y = top - size;
    double const x = column() + (row.heading.empty() ? 14 : text_left(size));
    if (row.heading.empty()) {
      pen_.text(column() + 5, y, "•", size);
    } else {
      pen_.box(column() + 1, y - 1, column() + size, y + size - 2, 0.8);
      pen_.text(column() + 15, y, row.heading, size, Face::bold);
    }
    for (auto const& line : row.lines) {
      pen_.text(x, y, line, size);
      y -= size * 1.25;
    }
  }

  PaperCanvas& pen_;
  JobSheet const& sheet_;
  double width_, height_;
};

/// The cuts of all sheets, in two columns.
void list_cuts(PaperCanvas& pen, JobSheet const& sheet, double width, double height) {
  constexpr double kSize = 9, kRow = 13, kTop = 30, kMostPages = 40;
  double const column = (width - 2 * kMargin + kGap) / 2;
  double y = 0, x = width;
  int pages = 0;
  auto const room_for = [&](double high) {
    if (y - high >= kMargin && pages > 0) return true;
    x += column;
    if (x + column > width) {
      if (++pages > kMostPages) return false;
      pen.next_page();
      pen.text(kMargin, height - kMargin - 14, "Cuts, in this order", 16, Face::bold);
      x = kMargin;
    }
    y = height - kMargin - kTop;
    return true;
  };
  auto const heading = [&](SheetCuts const& part, char const* more) {
    y -= kRow * 1.4;
    pen.text(x, y, "Sheet " + std::to_string(part.sheet) + more, 11, Face::bold);
  };
  for (auto const& part : sheet.cuts) {
    if (!room_for(3 * kRow)) return;
    heading(part, "");
    int number = 0;
    for (auto const& words : part.lines) {
      auto const lines = pen.wrapped(words, column - kGap - 34, kSize);
      double const before = x;
      if (!room_for(kRow * static_cast<double>(lines.size()))) return;
      if (x != before) heading(part, ", continued");
      pen.box(x, y - kRow - 1, x + kSize, y - kRow + kSize - 1, 0.8);
      pen.text(x + 14, y - kRow, std::to_string(++number), kSize, Face::bold);
      for (auto const& line : lines) pen.text(x + 34, y -= kRow, line, kSize);
    }
  }
}

}  // namespace

std::string draw_job_sheet(JobSheet const& sheet) {
  // ISO 216 A4 is 210 x 297 mm; ANSI/ASME Y14.1 A is 8.5 x 11 in.
  bool const a4 = sheet.paper == JobSheetPaper::a4;
  double const width = a4 ? Length::millimetres(210).in_points() : 612, height = a4 ? Length::millimetres(297).in_points() : 792;
  std::string const title = "Job sheet" + (sheet.file ? ": " + shown_name(sheet.file->name) : std::string());
  PaperCanvas pen(width, height, title, sheet.date);
  Layout(pen, sheet, width, height).draw();
  if (!sheet.cuts.empty()) list_cuts(pen, sheet, width, height);
  return pen.finish();
}

}  // namespace layright
