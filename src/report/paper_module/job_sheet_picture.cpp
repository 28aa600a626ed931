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

bool is_whole(LaidPicture const& picture) {
  return picture.width > 0 && picture.height > 0 &&
         picture.rgb.size() == 3u * static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height);
}

void art(PaperCanvas& pen, JobSheet const& sheet, Frame const& frame) {
  auto const page = sheet.target.sheet.page();
  if (!sheet.pictures.empty() && is_whole(sheet.pictures[0]))
    return pen.picture(sheet.pictures[0], frame.px(0), frame.py(0), frame.px(page.width()), frame.py(page.height()));
  auto const on_sheet = sheet.ink ? intersection(*sheet.ink, page) : std::nullopt;
  if (!on_sheet) return;
  auto const& ink = *on_sheet;
  pen.fill(frame.px(ink.x0), frame.py(ink.y0), frame.px(ink.x1), frame.py(ink.y1), 0.85);
  auto const middle = ink.centre();
  double const size = std::clamp(ink.width() * frame.scale / 5, 5.0, 9.0);
  pen.centred(frame.px(middle.x), frame.py(middle.y) - size / 3, "art", size, Face::regular, 0.3);
}

/// Gives its lowest y.
double first_sheet(PaperCanvas& pen, JobSheet const& sheet, double x0, double y0, double x1, double y1) {
  auto const page = sheet.target.sheet.page();
  auto const live = live_area_of_file(sheet.target);
  // A trial tells which of the two edges leads; without one the page's top is taken, and the words say that it is not known.
  auto const& trial = sheet.target.press.trial;
  bool const tried = trial && trial->leading;
  bool const bottom_leads = tried && *trial->leading == Corner::bottom_right, top_leads = tried && *trial->leading == Corner::top_left;
  constexpr double kArrow = 24, kWords = 24;
  double const room_x = x1 - x0, room_y = y1 - y0 - kArrow - kWords - 6;
  double const scale = std::min(room_x / page.width(), room_y / page.height());
  double const width = page.width() * scale, height = page.height() * scale;
  double const bottom = y1 - height - (bottom_leads ? 0 : kArrow + 6);
  Frame const frame{x0 + (room_x - width) / 2, bottom, scale};
  art(pen, sheet, frame);
  pen.box(frame.px(0), frame.py(0), frame.px(page.width()), frame.py(page.height()), 0.9);
  // On white, so that it shows on dark art as well.
  pen.box(frame.px(live.x0), frame.py(live.y0), frame.px(live.x1), frame.py(live.y1), 1.2, 1);
  pen.box(frame.px(live.x0), frame.py(live.y0), frame.px(live.x1), frame.py(live.y1), 0.5, 0.25, true);
  double const edge = bottom_leads ? frame.py(0) : frame.py(page.height());
  pen.line(frame.px(0), edge, frame.px(page.width()), edge, 3);
  arrow(pen, frame.px(page.width() / 2), bottom_leads ? edge - 4 - kArrow : edge + 4 + kArrow, kArrow, bottom_leads ? -1 : 1);
  double y = bottom - (bottom_leads ? kArrow + 14 : 10);
  auto const centred = [&](std::string const& text, Face face, double size) {
    pen.centred((x0 + x1) / 2, y, text, size, face);
    y -= size * 1.35;
  };
  centred(std::string("Thick line: this ") + (sheet.target.sheet.feed == Feed::short_edge ? "short" : "long") + " edge first", Face::bold, 7.5);
  centred(top_leads || bottom_leads ? "as the trial sheet showed; dashed: live area"
          : tried                   ? "the trial sheet came out another way"
                                    : "which of the two: print a trial sheet",
          Face::regular, 6.5);
  return y;
}

/// The pages after the first, small, in rows of three.
void other_pages(PaperCanvas& pen, JobSheet const& sheet, double x0, double y0, double x1, double y1) {
  constexpr double kApart = 6, kNumber = 9;
  constexpr std::size_t kInRow = 3;
  std::size_t const count = std::min(sheet.pictures.size(), kMostPictures) - 1;
  auto const page = sheet.target.sheet.page();
  double const rows = count > kInRow ? 2 : 1;
  double const wide = (x1 - x0 - (kInRow - 1) * kApart) / kInRow, high = (y1 - y0) / rows - kNumber - kApart;
  double const scale = std::min(wide / page.width(), high / page.height()), w = page.width() * scale, h = page.height() * scale;
  for (std::size_t i = 0; i < count; ++i) {
    double const left = x0 + static_cast<double>(i % kInRow) * (wide + kApart) + (wide - w) / 2;
    double const top = y1 - static_cast<double>(i / kInRow) * (h + kNumber + kApart);
    if (is_whole(sheet.pictures[i + 1])) pen.picture(sheet.pictures[i + 1], left, top - h, left + w, top);
    pen.box(left, top - h, left + w, top, 0.6);
    pen.centred(left + w / 2, top - h - kNumber, "page " + std::to_string(i + 2), 7);
  }
}

}  // namespace

void draw_page_pictures(PaperCanvas& pen, JobSheet const& sheet, double x0, double y0, double x1, double y1) {
  if (sheet.pictures.size() < 2) {
    first_sheet(pen, sheet, x0, y0, x1, y1);
    return;
  }
  double const high = y1 - y0, rows = sheet.pictures.size() > 4 ? 2 : 1;
  double const foot = first_sheet(pen, sheet, x0, y0 + high * (rows > 1 ? 0.5 : 0.34), x1, y1);
  other_pages(pen, sheet, x0, y0, x1, foot - 4);
}

}  // namespace layright
