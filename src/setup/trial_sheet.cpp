#include "setup/trial_sheet.h"

#include <array>
#include <cmath>

#include "setup/setting.h"

namespace layright {
namespace {

using Box = Rect<SheetSpace>;

std::string number(double value) { return format_number(value, 3); }

/// A page's content as PDF operators (ISO 32000-1, 8 and 9): black only.
class Drawing {
 public:
  void width(double points) { text_ += number(points) + " w\n"; }
  void line(double x0, double y0, double x1, double y1) {
    text_ += number(x0) + " " + number(y0) + " m " + number(x1) + " " + number(y1) + " l S\n";
  }
  void frame(Box const& r) {
    text_ += number(r.x0) + " " + number(r.y0) + " " + number(r.width()) + " " + number(r.height()) + " re S\n";
  }
  /// A filled arrow whose tip points up.
  void arrow(double x, double tip, double length) {
    double const head = length / 3, half = length / 4, stem = length / 12;
    std::array<std::array<double, 2>, 7> const p{{{x, tip}, {x + half, tip - head}, {x + stem, tip - head}, {x + stem, tip - length},
                                                  {x - stem, tip - length}, {x - stem, tip - head}, {x - half, tip - head}}};
    for (std::size_t i = 0; i < p.size(); ++i) text_ += number(p[i][0]) + " " + number(p[i][1]) + (i ? " l " : " m ");
    text_ += "f\n";
  }
  /// `x` is where the text is centred. Bold is /B, else /R; both are the standard Helvetica, whose letters are 0.5 em wide on average.
  void words(double x, double y, double size, std::string const& text, bool bold = false) {
    double const start = x - 0.25 * size * static_cast<double>(text.size());
    std::string escaped;
    for (char c : text) {
      if (c == '(' || c == ')' || c == '\\') escaped += '\\';
      escaped += c >= 0x20 && c < 0x7f ? c : '?';
    }
    text_ += std::string("BT /") + (bold ? "B" : "R") + " " + number(size) + " Tf " + number(start) + " " + number(y) + " Td (" + escaped + ") Tj ET\n";
  }
  std::string const& text() const { return text_; }

 private:
  std::string text_;
};

/// Ticks of a ruler: the finest step, and how many make a middle and a numbered one. Millimetres, or sixteenths of an inch.
struct Scale {
  double step;        // points
  int middle, long_;  // in steps
  double per_number;  // what one long tick counts
};
Scale scale_for(Unit unit) {
  if (unit == Unit::millimetre) return {72 / 25.4, 5, 10, 10};
  if (unit == Unit::point) return {4, 5, 10, 40};
  return {72.0 / 16, 8, 16, 1};
}

/// A ruler from (x, y) along (dx, dy), ticks to its left as one walks it.
void ruler(Drawing& draw, Scale const& scale, double x, double y, double dx, double dy, double length, bool from_zero) {
  draw.width(0.3);
  int const steps = static_cast<int>(std::floor(length / scale.step + 1e-6));
  for (int i = 0; i <= steps; ++i) {
    double const at = i * scale.step, tick = i % scale.long_ == 0 ? 9 : i % scale.middle == 0 ? 6 : 3.5;
    double const px = x + dx * at, py = y + dy * at;
    draw.line(px, py, px - dy * tick, py + dx * tick);
    if (i % scale.long_ == 0 && (i > 0 || from_zero))
      draw.words(px - dy * 14, py + dx * 14 - 2, 6, format_number(i / scale.long_ * scale.per_number, 0));
  }
  draw.line(x, y, x + dx * steps * scale.step, y + dy * steps * scale.step);
}

void edges(Drawing& draw, Box const& page, Scale const& scale) {
  auto const c = page.centre();
  double const depth = 72;  // an inch from each edge shows where a press stops
  ruler(draw, scale, c.x - 60, 0, 0, 1, depth, false);
  ruler(draw, scale, c.x + 60, page.y1, 0, -1, depth, false);
  ruler(draw, scale, 0, c.y + 60, 1, 0, depth, false);
  ruler(draw, scale, page.x1, c.y - 60, -1, 0, depth, false);
}

void corners(Drawing& draw, Box const& live) {
  double const size = 40, in = 26;
  draw.words(live.x0 + in, live.y1 - in - size * 0.5, size, "1", true);
  draw.words(live.x1 - in, live.y1 - in - size * 0.5, size, "2", true);
  draw.words(live.x1 - in, live.y0 + in * 0.6, size, "3", true);
  draw.words(live.x0 + in, live.y0 + in * 0.6, size, "4", true);
}

std::string document(Box const& page, std::string const& content) {
  std::string const box = "[0 0 " + number(page.width()) + " " + number(page.height()) + "]";
  std::array<std::string, 6> const objects{
      "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>",
      "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
      "<< /Type /Page /Parent 2 0 R /MediaBox " + box + " /TrimBox " + box + " /Contents 4 0 R /Resources << /Font << /R 5 0 R /B 6 0 R >> >> >>",
      "<< /Length " + std::to_string(content.size()) + " >>\nstream\n" + content + "endstream",
      "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
      "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold /Encoding /WinAnsiEncoding >>"};
  std::string pdf = "%PDF-1.7\n%\xE2\xE3\xCF\xD3\n", table = "0000000000 65535 f \n";
  for (std::size_t i = 0; i < objects.size(); ++i) {
    std::string const offset = std::to_string(pdf.size());
    table += std::string(10 - offset.size(), '0') + offset + " 00000 n \n";
    pdf += std::to_string(i + 1) + " 0 obj\n" + objects[i] + "\nendobj\n";
  }
  std::string const start = std::to_string(pdf.size()), size = std::to_string(objects.size() + 1);
  return pdf + "xref\n0 " + size + "\n" + table + "trailer\n<< /Size " + size + " /Root 1 0 R >>\nstartxref\n" + start + "\n%%EOF\n";
}

}  // namespace

std::string trial_sheet(Target const& target, Unit unit) {
  auto const page = target.sheet.page();
  auto const live = target.sheet.live_area();
  auto const middle = page.centre();
  auto const scale = scale_for(unit);
  Drawing draw;
  draw.width(0.5);
  draw.frame(live);
  corners(draw, live);
  double const top = page.y1 - 90;
  draw.arrow(middle.x, top, 60);
  draw.words(middle.x, top - 78, 13, "THIS EDGE FIRST", true);
  draw.words(middle.x, top - 94, 9, format_size(target.sheet.width, target.sheet.length, unit) + ", " + feed_words(target.sheet.feed));
  draw.words(middle.x, top - 158, 54, "R F G 7", true);
  // As long as fits: whole long ticks only. The one along the feed stands clear of the edges' own rulers, all else right of it.
  auto const whole = [&](double room) { return std::floor(room / (scale.step * scale.long_)) * scale.step * scale.long_; };
  double const x = std::max(live.x0 + 24, 84.0), along = whole(live.height() - 110), from = x + 24, across = whole(live.x1 - 78 - from);
  ruler(draw, scale, x, middle.y + along / 2, 0, -1, along, true);
  draw.words(x - 26, middle.y + 14, 7, "along");
  draw.words(x - 26, middle.y + 5, 7, "the feed");
  ruler(draw, scale, from, middle.y - 80, 1, 0, across, true);
  draw.words(from + across / 2, middle.y - 92, 7, "across the feed");
  edges(draw, page, scale);
  double y = middle.y - 112;
  double const size = std::min(7.5, across / 62);
  for (char const* line : {"Print this as any job, on paper of the same size first. Tell layright what it shows:",
                           "reads=right, or reads=wrong where it reads as in a mirror;",
                           "leading=1 to 4: the number at the left end of the edge that came out first;",
                           "left, right, top, bottom: the first tick that was printed at each edge, as a length;",
                           "along, across: the printed length over the length on the ruler, such as 252.5mm/250mm;",
                           "shift-x, shift-y: how far the frame lies too far to the right, and too far up."}) {
    draw.words(from + across / 2, y, size, line);
    y -= size * 1.5;
  }
  return document(page, draw.text());
}

}  // namespace layright
