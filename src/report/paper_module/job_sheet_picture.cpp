#include <algorithm>

#include "place/correction.h"
#include "report/paper_module/job_sheet_layout.h"

namespace layright {
namespace {

struct Frame {
  double x, y, scale;
  double px(double v) const { return x + v * scale; }
  double py(double v) const { return y + v * scale; }
};

void arrow(PaperCanvas& pen, double x, double tip, double length, double up) {
  double const head = length * 0.45 * up, half = length * 0.3, stem = length * 0.1, end = length * up;
  pen.polygon({{x, tip},
               {x + half, tip - head},
               {x + stem, tip - head},
               {x + stem, tip - end},
               {x - stem, tip - end},
               {x - stem, tip - head},
               {x - half, tip - head}});
}

void art(PaperCanvas& pen, JobSheet const& sheet, Frame const& frame) {
  auto const page = sheet.target.sheet.page();
  bool const whole = sheet.picture.width > 0 && sheet.picture.height > 0 &&
                     sheet.picture.rgb.size() == 3u * static_cast<std::size_t>(sheet.picture.width) * static_cast<std::size_t>(sheet.picture.height);
  if (whole) return pen.picture(sheet.picture, frame.px(0), frame.py(0), frame.px(page.width()), frame.py(page.height()));
  auto const on_sheet = sheet.ink ? intersection(*sheet.ink, page) : std::nullopt;
  if (!on_sheet) return;
  auto const& ink = *on_sheet;
  pen.fill(frame.px(ink.x0), frame.py(ink.y0), frame.px(ink.x1), frame.py(ink.y1), 0.85);
  auto const middle = ink.centre();
  double const size = std::clamp(ink.width() * frame.scale / 5, 5.0, 9.0);
  pen.centred(frame.px(middle.x), frame.py(middle.y) - size / 3, "art", size, Face::regular, 0.3);
}

}  // namespace

double draw_sheet_picture(PaperCanvas& pen, JobSheet const& sheet, double x0, double y0, double x1, double y1) {
  auto const page = sheet.target.sheet.page();
  auto const live = live_area_of_file(sheet.target);
  // A trial tells which of the two edges leads; without one the page's top is taken, and the words say that it is not known.
  auto const& trial = sheet.target.press.trial;
  bool const tried = trial && trial->leading;
  bool const bottom_leads = tried && *trial->leading == Corner::bottom_right, top_leads = tried && *trial->leading == Corner::top_left;
  constexpr double kArrow = 24, kWords = 22;
  double const room_x = x1 - x0, room_y = y1 - y0 - kArrow - kWords - 6;
  double const scale = std::min(room_x / page.width(), room_y / page.height());
  double const width = page.width() * scale, height = page.height() * scale;
  double const bottom = y1 - height - (bottom_leads ? 0 : kArrow + 6);
  Frame const frame{x0 + (room_x - width) / 2, bottom, scale};
  art(pen, sheet, frame);
  pen.box(frame.px(0), frame.py(0), frame.px(page.width()), frame.py(page.height()), 0.9);
  pen.box(frame.px(live.x0), frame.py(live.y0), frame.px(live.x1), frame.py(live.y1), 0.4, 0.35, true);
  double const edge = bottom_leads ? frame.py(0) : frame.py(page.height());
  pen.line(frame.px(0), edge, frame.px(page.width()), edge, 3);
  arrow(pen, frame.px(page.width() / 2), bottom_leads ? edge - 4 - kArrow : edge + 4 + kArrow, kArrow, bottom_leads ? -1 : 1);
  double y = bottom - (bottom_leads ? kArrow + 14 : 10);
  std::string const edge_name = sheet.target.sheet.feed == Feed::short_edge ? "short edge" : "long edge";
  auto const centred = [&](std::string const& text, Face face, double size) {
    pen.centred((x0 + x1) / 2, y, text, size, face);
    y -= size * 1.35;
  };
  centred("Thick line: this " + edge_name + " first", Face::bold, 7.5);
  centred(top_leads || bottom_leads ? "(as the trial sheet showed) · dashed: live area"
          : tried                   ? "(the trial sheet came out another way) · dashed: live area"
                                    : "(which of the two: by trial sheet) · dashed: live area",
          Face::regular, 6.5);
  return y;
}

}  // namespace layright
