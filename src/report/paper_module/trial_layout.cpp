#include "report/paper_module/trial_layout.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "setup/setting.h"

namespace layright {
namespace {

using SheetRect = Rect<SheetSpace>;

/// A blank at which no line is broken.
std::string joined(std::string_view text) {
  std::string out;
  for (char const c : text) c == ' ' ? out += "\u00A0" : out += c;
  return out;
}

/// Broken after commas as well.
std::string parted(std::string_view text) {
  std::string out;
  for (char const c : text) (out += c) += c == ',' ? "\u200B" : "";
  return out;
}

/// What is drawn with the pen, in black.
class Drawing {
 public:
  explicit Drawing(PaperCanvas& pen) : pen_(pen) {}
  void width(double points) { thick_ = points; }
  void line(double x0, double y0, double x1, double y1) { pen_.line(x0, y0, x1, y1, thick_); }
  void frame(SheetRect const& r) { pen_.box(r.x0, r.y0, r.x1, r.y1, thick_); }
  /// A thin line with a head at either end.
  void measure(double x0, double y0, double x1, double y1) {
    double const length = std::hypot(x1 - x0, y1 - y0), ux = (x1 - x0) / length, uy = (y1 - y0) / length;
    line(x0, y0, x1, y1);
    for (auto const& [x, y, way] : {std::tuple{x0, y0, 1.0}, std::tuple{x1, y1, -1.0}}) {
      double const bx = x + way * ux * 6, by = y + way * uy * 6;
      pen_.polygon({{x, y}, {bx - uy * 2, by + ux * 2}, {bx + uy * 2, by - ux * 2}});
    }
  }
  /// The same in mirror writing: whoever reverses, one of the two can be read.
  void centred_mirrored(double x, double y, double size, std::string const& text) {
    pen_.mirrored(2 * x);
    pen_.centred(x, y, text, size);
    pen_.end_mirrored();
  }
  PaperCanvas& pen() { return pen_; }

 private:
  PaperCanvas& pen_;
  double thick_ = 0.5;
};

/// What depends on how large the sheet is.
struct Sizes {
  bool small;
  Length gap;          // from the paper's edge to the frame
  int steps;           // lines that show where printing begins, a millimetre apart
  double pace, label;  // points from one such line to the next along the edge; letters of A to H
};

/// What A to H and their blanks take from a corner on, and the room that is left between two of them for both rows of lines.
constexpr int kStepsLarge = 12;
constexpr double kCornerLarge = 156, kCornerSmall = 78;

Sizes sizes_for(SheetRect const& page, Unit unit) {
  double const side = std::min(page.width(), page.height());
  bool const small = side < 432;
  auto const gap = unit == Unit::millimetre ? Length::millimetres(small ? 12 : 25) : Length::inches(small ? 0.5 : 1);
  int const steps = side < 576 ? 8 : kStepsLarge;
  double const pace = std::min(small ? 8.0 : 12.0, (side - 2 * (small ? kCornerSmall : kCornerLarge)) / (2 * steps + 2));
  return {small, gap, steps, pace, small ? 8.0 : 13.0};
}

/// Whether the register star is on it: where the press lays white, and the sheet has room beside what must be read.
bool has_star(Target const& target, Sizes const& sizes) { return target.press.prints_white && sizes.steps == kStepsLarge; }

/// Lines at each millimetre, with their numbers: one row from the middle of an edge on, and one in mirror writing the other way. (x, y) is the
/// edge's middle, (nx, ny) points into the page.
void steps(Drawing& draw, Sizes const& sizes, double x, double y, double nx, double ny) {
  double const half = sizes.pace * 0.36, letters = std::min(6.5, sizes.pace * 0.7), room = letters * (std::abs(nx) > 0.5 ? 0.9 : 0.75);
  draw.width(0.6);
  for (double const way : {1.0, -1.0})
    for (int k = 1; k <= sizes.steps; ++k) {
      double const along = way * (k - 0.25) * sizes.pace, depth = Length::millimetres(k).in_points();
      double const px = x - ny * along + nx * depth, py = y + nx * along + ny * depth;
      draw.line(px + ny * half, py - nx * half, px - ny * half, py + nx * half);
      double const low = py + ny * room - letters * 0.35;
      if (way > 0) draw.pen().centred(px + nx * room, low, std::to_string(k), letters);
      else draw.centred_mirrored(px + nx * room, low, letters, std::to_string(k));
    }
}

/// The eight places to measure from the paper's edge to the frame, A to H clockwise from corner 1, each with a blank beside it. Capitals: in a
/// mirror they are still themselves, while b would be d.
void gaps(Drawing& draw, Sizes const& sizes, SheetRect const& page, SheetRect const& frame) {
  double const in = sizes.small ? 10 : 22, size = sizes.label, beside = 5, middle_of_text = size * 0.35;
  std::string const blank = sizes.small ? " ____" : " ______";
  draw.width(0.5);
  auto const upright = [&](char name, double x, double from, double to, bool left) {
    draw.measure(x, from, x, to);
    double const text = draw.pen().width(name + blank, size, Face::bold);
    draw.pen().text(left ? x + beside : x - beside - text, (from + to) / 2 - middle_of_text, name + blank, size, Face::bold);
  };
  auto const level = [&](char name, double y, double from, double to, bool above) {
    draw.measure(from, y, to, y);
    draw.pen().centred((from + to) / 2, above ? y + beside : y - beside - size * 0.75, name + blank, size, Face::bold);
  };
  upright('A', frame.x0 + in, page.y1, frame.y1, true);
  upright('B', frame.x1 - in, page.y1, frame.y1, false);
  level('C', frame.y1 - in, page.x1, frame.x1, false);
  level('D', frame.y0 + in, page.x1, frame.x1, true);
  upright('E', frame.x1 - in, page.y0, frame.y0, false);
  upright('F', frame.x0 + in, page.y0, frame.y0, true);
  level('G', frame.y0 + in, page.x0, frame.x0, true);
  level('H', frame.y1 - in, page.x0, frame.x0, false);
}

constexpr int kStarLines = 10;  // to either side of the middle
constexpr double kStarLine = 0.6, kStarTick = 9, kStarBar = 9;

/// Room for the register star above and below the sheet's middle; 0 where the press lays no white.
double star_room(Target const& target, Sizes const& sizes) { return has_star(target, sizes) ? kStarLines * 8 + 8 : 0; }

/// Two rows of lines, across and along: black ones, and beyond them white ones on a black bar, each a step nearer to the middle than its black one.
/// Where the two run on straight, white lies so many steps off. The middle line is longer, and each fifth one: nothing is to be read in a mirror.
void register_star(Drawing& draw, Target const& target, Point<SheetSpace> const& middle) {
  double const pitch = 8, step = kStarStep.in_points(), half = kStarLines * pitch + 4;
  double const shift = half + kStarTick + kStarBar;
  auto& pen = draw.pen();
  double const x = middle.x + shift / 2 + kStarTick, y = middle.y, up = middle.x - shift / 2 - half / 2 - kStarTick;
  pen.fill(x - half, y - kStarBar, x + half, y, 0);
  pen.fill(up - kStarBar, y - half, up, y + half, 0);
  draw.width(kStarLine);
  for (int k = -kStarLines; k <= kStarLines; ++k) {
    double const tick = k == 0 ? 2 * kStarTick : k % 5 == 0 ? 1.4 * kStarTick : kStarTick, black = k * pitch, white = k * (pitch - step);
    draw.line(x + black, y, x + black, y + tick);
    draw.line(up, y + black, up + tick, y + black);
    pen.line_in_ink(target.press.white_ink, x + white, y - kStarBar, x + white, y, kStarLine);
    pen.line_in_ink(target.press.white_ink, up - kStarBar, y + white, up, y + white, kStarLine);
  }
}

void corners(PaperCanvas& pen, Sizes const& sizes, SheetRect const& frame) {
  double const size = sizes.small ? 22 : 40, in = size * 0.25, low = size * 0.72;
  for (auto const& [name, x, y] : {std::tuple{"1", frame.x0 + in, frame.y1 - in - low},
                                   {"2", frame.x1 - in - size * 0.7, frame.y1 - in - low},
                                   {"3", frame.x1 - in - size * 0.7, frame.y0 + in},
                                   {"4", frame.x0 + in, frame.y0 + in}})
    pen.text(x, y, name, size, Face::bold);
}

/// "6.5 in (165.1 mm)": whichever ruler is at hand.
std::string on_any_ruler(Length length) { return format_length(length, Unit::inch) + " (" + format_number(length.in_millimetres(), 1) + " mm)"; }

std::vector<std::string> instructions(Target const& target, Sizes const& sizes, SheetRect const& frame, Unit unit, bool reversed) {
  auto const across = Length::points(frame.width()), along = Length::points(frame.height());
  std::string const name = target.name.empty() ? "NAME" : target.name;
  auto const nominal = [unit](Length length) {
    return unit == Unit::millimetre ? format_number(length.in_millimetres(), 1) + "mm" : format_number(length.in_points() / 72, 3) + "in";
  };
  return {
      "You can read these lines: the press " +
          std::string(reversed ? "REVERSED this sheet. Write reads=wrong" : "did NOT reverse this sheet. Write reads=right"),
      "Trial sheet" + (target.press.name.empty() ? std::string() : " of the press " + target.press.name) + ", " +
          format_size(target.sheet.width, target.sheet.length, unit) + ", asked for " + feed_words(target.sheet.feed) + ".",
      std::string("Lay it before you printed side up, the edge with 1 and 2 away from you; the toner is on the printed side. ") +
          "The lines in mirror writing are not for you.",
      "1. Which edge came out of the press first? (If nobody saw it, print another and watch.) Ring the two numbers on it:   " +
          joined("12    23    34    41"),
      "2. In the middle of each edge are short lines, 1 to " + std::to_string(sizes.steps) +
          " mm from it. Which is the smallest number that is printed with its line?   " + joined("Edge 1-2: ____ mm") + "    " +
          joined("Edge 2-3: ____ mm") + "    " + joined("Edge 3-4: ____ mm") + "    " + joined("Edge 4-1: ____ mm"),
      "3. Measure from the edge of the paper to the frame at the arrows A to H and write it beside them. Each should be " + on_any_ruler(sizes.gap) +
          ".",
      "4. Measure the frame from line to line. From side 4-1 to side 2-3 it should be " + on_any_ruler(across) + ": " +
          joined("across = __________") +
          "   "
          "From side 1-2 to side 3-4 it should be " +
          on_any_ruler(along) + ": " + joined("along = __________"),
      std::string(
          has_star(target, sizes)
              ? "5. White: in the middle are two rows of black lines, and beyond them white ones on black bars. Counted from the long line in the "
                "middle, at which line do black and white run on straight? (Where no white shows, print this on film.)   " +
                    joined("Row across: ____") + "    " + joined("Row along: ____") + "   6."
              : "5.") +
          " Type all of it in one line, each length with its unit (mm or in):",
      parted("layright trial --target " + name + " --measured reads=" + (reversed ? "wrong" : "right") +
             ",leading=___,blank12=___mm,blank23=___mm,blank34=___mm,blank41=___mm,A=___,B=___,C=___,D=___,E=___,F=___,G=___,H=___,across=___/" +
             nominal(across) + ",along=___/" + nominal(along) + (has_star(target, sizes) ? ",white-across=___,white-along=___" : ""))};
}

/// The instructions inside a box, as large as they fit; the first in bold.
void block(PaperCanvas& pen, std::vector<std::string> const& text, SheetRect const& box) {
  struct Line {
    std::string words;
    double size, above;
    Face face;
  };
  for (double size = 12; size >= 4; size -= 0.25) {
    std::vector<Line> lines;
    double height = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
      Face const face = i == 0 ? Face::bold : Face::regular;
      double const letters = i == 0 ? size * 1.15 : size;
      double above = i == 0 ? 0 : size * 0.7;
      for (auto& words : pen.wrapped(text[i], box.width(), letters, face)) {
        lines.push_back({std::move(words), letters, std::exchange(above, 0), face});
        height += size * 1.3 + lines.back().above;
      }
    }
    if (height > box.height() && size > 4) continue;
    double y = box.y1;
    for (auto const& line : lines) {
      y -= line.above + size * 1.3;
      pen.text(box.x0, y, line.words, line.size, line.face);
    }
    return;
  }
}

}  // namespace

std::string draw_trial_sheet(Target const& target, Unit unit) {
  auto const page = target.sheet.page();
  auto const sizes = sizes_for(page, unit);
  double const gap = sizes.gap.in_points();
  SheetRect const frame{page.x0 + gap, page.y0 + gap, page.x1 - gap, page.y1 - gap};
  auto const middle = page.centre();
  PaperCanvas pen(page.width(), page.height(), "Trial sheet", {});
  pen.print_as_it_is();
  Drawing draw(pen);
  draw.width(0.7);
  draw.frame(frame);
  corners(pen, sizes, frame);
  gaps(draw, sizes, page, frame);
  steps(draw, sizes, middle.x, page.y1, 0, -1);
  steps(draw, sizes, page.x1, middle.y, -1, 0);
  steps(draw, sizes, middle.x, page.y0, 0, 1);
  steps(draw, sizes, page.x0, middle.y, 1, 0);
  // The lower one is drawn in mirror writing, so that of the two exactly one can be read on paper, whoever reverses.
  double const side = sizes.small ? 8 : 20, corner = sizes.small ? 32 : 58, star = star_room(target, sizes);
  if (star > 0) register_star(draw, target, middle);
  block(pen, instructions(target, sizes, frame, unit, false), {frame.x0 + side, middle.y + 8 + star, frame.x1 - side, frame.y1 - corner});
  pen.mirrored(page.width());
  block(pen, instructions(target, sizes, frame, unit, true), {frame.x0 + side, frame.y0 + corner, frame.x1 - side, middle.y - 8 - star});
  pen.end_mirrored();
  return pen.finish();
}

}  // namespace layright
