#include "report/paper_module/job_sheet_layout.h"

#include <algorithm>

#include "report/report.h"

namespace layright {
namespace {

constexpr double kMargin = 34;
constexpr double kLargest = 9, kSmallest = 6;  // of the steps' letters

struct Fact {
  std::string label, value;
};

std::string size_words(long long bytes) {
  if (bytes < 1024) return std::to_string(bytes) + " bytes";
  if (bytes < 1024 * 1024) return format_number(static_cast<double>(bytes) / 1024, 1) + " kB";
  return format_number(static_cast<double>(bytes) / (1024 * 1024), 1) + " MB";
}

std::vector<Fact> facts_of(JobSheet const& sheet) {
  Target const& target = sheet.target;
  std::vector<Fact> facts;
  if (sheet.file) {
    std::string const name = shown_name(sheet.file->name);
    facts.push_back({"File", name.empty() ? "(no name)" : name});
    facts.push_back(
        {"Digest", sheet.file->sha256.substr(0, 32) + " " + sheet.file->sha256.substr(std::min<std::size_t>(32, sheet.file->sha256.size()))});
    facts.push_back(
        {"Size", size_words(sheet.file->bytes) + ", " + std::to_string(sheet.file->pages) + (sheet.file->pages == 1 ? " page" : " pages")});
  }
  if (sheet.file && !sheet.file->toner.empty()) facts.push_back({"Toner", shown_name(sheet.file->toner) + " a copy, estimated"});
  facts.push_back({"Date", sheet.date});
  facts.push_back({"Sheet", format_size(target.sheet.width, target.sheet.length, sheet.unit) + ", " + feed_words(target.sheet.feed)});
  std::string const names = (target.name.empty() ? std::string("by hand") : shown_name(target.name)) +
                            (target.press.name.empty() ? "" : ", press " + shown_name(target.press.name));
  facts.push_back({"Target", names});
  facts.push_back({"Copies", std::to_string(target.copies)});
  if (target.white.on) facts.push_back({"White", target.white.percent ? format_number(*target.white.percent, 0) + " % of one full layer" : "on"});
  std::string const side = target.press.film_side_up.empty() ? "as the film's data sheet says" : shown_name(target.press.film_side_up);
  facts.push_back({"Side up", side});
  return facts;
}

class Layout {
 public:
  Layout(PaperCanvas& pen, JobSheet const& sheet, double width, double height) : pen_(pen), sheet_(sheet), width_(width), height_(height) {}

  void draw() {
    double const top = head();
    double const below = picture_and_facts(top);
    double const floor = cautions();
    lists(below - 12, floor + 8);
  }

 private:
  double right() const { return width_ - kMargin; }

  double head() {
    double const y = height_ - kMargin - 14;
    pen_.text(kMargin, y, "Job sheet", 20, Face::bold);
    std::string const date = sheet_.date;
    pen_.text(right() - pen_.width(date, 10), y, date, 10);
    pen_.line(kMargin, y - 8, right(), y - 8, 1.2);
    return y - 20;
  }

  double picture_and_facts(double top) {
    double const column = 178;
    double const picture_end = draw_sheet_picture(pen_, sheet_, kMargin, top - 232, kMargin + column, top);
    double const x = kMargin + column + 18, label = 48;
    double y = top - 9;
    for (auto const& fact : facts_of(sheet_)) {
      bool const name = fact.label == "File";
      double size = name ? 11.0 : 8.5;
      auto lines = pen_.wrapped(fact.value, right() - x - label, size, name ? Face::bold : Face::regular);
      while (lines.size() > 5 && size > 7) lines = pen_.wrapped(fact.value, right() - x - label, size -= 0.5, name ? Face::bold : Face::regular);
      pen_.text(x, y, fact.label, 7.5, Face::regular, 0.35);
      std::size_t const most = 8;
      if (lines.size() > most) lines.resize(most - 1), lines.emplace_back("… (the digest tells which file it is)");
      for (auto const& line : lines) {
        pen_.text(x + label, y, line, size, name ? Face::bold : Face::regular);
        y -= size * 1.3;
      }
      y -= 3;
    }
    return std::min(reading_box(x, y), picture_end);
  }

  /// How the sheet must read, large enough to be seen from where one stands.
  double reading_box(double x, double y) {
    auto const lines = pen_.wrapped(reversal_words(sheet_.target), right() - x - 16, 8.5);
    std::string const large = sheet_.target.reading == WantedReading::wrong   ? "Prints reversed (mirror writing)"
                              : sheet_.target.reading == WantedReading::right ? "Prints the right way round"
                                                                              : "Prints as the file is";
    double const height = 24 + 11.5 * static_cast<double>(lines.size()) + 6;
    pen_.fill(x, y - height, right(), y, 0.93);
    pen_.box(x, y - height, right(), y, 1);
    pen_.text(x + 8, y - 17, large, 12.5, Face::bold);
    double at = y - 31;
    for (auto const& line : lines) {
      pen_.text(x + 8, at, line, 8.5);
      at -= 11.5;
    }
    return y - height;
  }

  /// At the foot, in a frame; gives its top.
  double cautions() {
    constexpr double kSize = 7.5, kSign = 34;
    double const room = right() - kMargin - kSign - 16;
    std::vector<std::string> lines;
    for (auto const& caution : sheet_.list.cautions)
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
    std::string heading;  // empty: a line of "Mind"
    std::vector<std::string> lines;
    double height = 0;
  };

  std::vector<Row> rows(double size) {
    std::vector<Row> result;
    for (auto const& step : sheet_.list.steps)
      result.push_back({shown_name(step.heading), pen_.wrapped(shown_name(step.text), text_room(size), size), 0});
    for (auto const& line : sheet_.list.watch) result.push_back({"", pen_.wrapped(shown_name(line), right() - kMargin - 14, size), 0});
    for (auto& row : result) row.height = std::max(1.0, static_cast<double>(row.lines.size())) * size * 1.25 + size * 0.5;
    return result;
  }
  double heading_room(double size) const { return size * 10.5; }
  double text_room(double size) const { return right() - kMargin - 16 - heading_room(size); }

  void lists(double top, double bottom) {
    double size = kLargest;
    auto all = rows(size);
    double const titles = 34;
    auto const total = [&] {
      double sum = titles;
      for (auto const& row : all) sum += row.height;
      return sum;
    };
    while (total() > top - bottom && size > kSmallest) all = rows(size -= 0.25);
    std::size_t left_out = 0;
    while (total() + 12 > top - bottom && all.size() > 1 && total() > top - bottom) all.pop_back(), ++left_out;
    double y = title("Steps", top);
    bool mind = false;
    for (auto const& row : all) {
      if (row.heading.empty() && !mind) y = title("Mind", y - 4), mind = true;
      draw_row(row, size, y);
      y -= row.height;
    }
    if (left_out > 0)
      pen_.text(kMargin + 14, y - size, "… and " + std::to_string(left_out) + " more: layright setup --as text tells all", size, Face::bold);
  }

  double title(char const* text, double y) {
    pen_.text(kMargin, y - 9, text, 10, Face::bold);
    pen_.line(kMargin, y - 12.5, right(), y - 12.5, 0.5, 0.5);
    return y - 15;
  }

  void draw_row(Row const& row, double size, double top) {
    double y = top - size;
    double const x = kMargin + (row.heading.empty() ? 14 : 16 + heading_room(size));
    if (row.heading.empty()) {
      pen_.text(kMargin + 5, y, "•", size);
    } else {
      pen_.box(kMargin + 1, y - 1, kMargin + size, y + size - 2, 0.7);
      auto const heading = pen_.wrapped(row.heading, heading_room(size) - 4, size, Face::bold);
      double heading_size = size;
      while (heading.size() > 1 && heading_size > 5 && pen_.width(row.heading, heading_size, Face::bold) > heading_room(size) - 4)
        heading_size -= 0.25;
      pen_.text(kMargin + 16, y, row.heading, heading_size, Face::bold);
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

}  // namespace

std::string draw_job_sheet(JobSheet const& sheet) {
  // ISO 216 A4 is 210 x 297 mm; ANSI/ASME Y14.1 A is 8.5 x 11 in.
  bool const a4 = sheet.paper == JobSheetPaper::a4;
  double const width = a4 ? Length::millimetres(210).in_points() : 612, height = a4 ? Length::millimetres(297).in_points() : 792;
  std::string const title = "Job sheet" + (sheet.file ? ": " + shown_name(sheet.file->name) : std::string());
  PaperCanvas pen(width, height, title, sheet.date);
  Layout(pen, sheet, width, height).draw();
  return pen.finish();
}

}  // namespace layright
