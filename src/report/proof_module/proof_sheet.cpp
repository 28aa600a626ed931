#include <algorithm>
#include <array>
#include <cmath>

#include "report/proof_module/badge.h"
#include "report/proof_module/proof_layout.h"

namespace layright {
namespace {

constexpr double kTick = 4, kNumber = 6.5, kNumbersApart = 18;

cairo_matrix_t pixels_to_points(PagePicture const& picture, Matrix<SeenSpace, SheetSpace> const& m, OnDrawing const& on) {
  double const k = 72 / picture.dpi;
  auto const at = [&](double px, double py) {
    auto const p = m.apply(Point<SeenSpace>{picture.area.x0 + px * k, picture.area.y1 - py * k});
    return Point<SheetSpace>{on.px(p.x), on.py(p.y)};
  };
  auto const o = at(0, 0), right = at(1, 0), down = at(0, 1);
  cairo_matrix_t out;
  cairo_matrix_init(&out, right.x - o.x, right.y - o.y, down.x - o.x, down.y - o.y, o.x, o.y);
  return out;
}

/// The art on the sheet, and past it as far as its ink goes: what is blank around it would hide nothing and print nothing.
void draw_art(ProofCanvas& pen, ProofPage const& page, SheetView const& view, OnDrawing const& on) {
  if (page.picture.width < 1) return;
  auto const shown = *intersection(united(view.ink, on.frame), on.frame);
  auto const r = on.of(shown);
  cairo_surface_t* const pixels = cairo_pixels(page.picture, PaperWhite::kept);
  pen.picture(pixels, pixels_to_points(page.picture, view.art, on), r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0);
  cairo_surface_destroy(pixels);
}

/// Above the frame, so that it covers no art; the edge itself is drawn thick, with the sheet.
void draw_feed_arrow(ProofCanvas& pen, Proof const& proof, DrawnRect const& sheet, double top) {
  double const middle = (sheet.x0 + sheet.x1) / 2, foot = top - 7, tip = top - 26;
  pen.polygon({{middle, tip},
               {middle + 8, tip + 9},
               {middle + 2.5, tip + 9},
               {middle + 2.5, foot},
               {middle - 2.5, foot},
               {middle - 2.5, tip + 9},
               {middle - 8, tip + 9}},
              kInk, kInk, 0.5);
  std::string const words = std::string("this ") + (proof.target.sheet.feed == Feed::short_edge ? "short" : "long") + " edge first";
  pen.text(middle + 14, top - 11, words, 8.5, kInk, true);
}

/// Inches, or centimeters; from the sheet's left and bottom edge.
void draw_rulers(ProofCanvas& pen, Proof const& proof, DrawnRect const& frame, DrawnRect const& sheet, double scale) {
  bool const metric = proof.unit == Unit::millimetre;
  double const step = (metric ? Length::millimetres(10) : Length::inches(1)).in_points() * scale;
  int every = 1;
  for (int const more : {2, 5, 10, 20, 50, 100})
    if (every * step < kNumbersApart) every = more;
  auto const number = [&](int i) { return std::to_string(metric ? i * 10 : i); };
  for (int i = 0; sheet.x0 + i * step < sheet.x1 + 0.1; ++i) {
    double const x = sheet.x0 + i * step;
    bool const told = i % every == 0;
    pen.line(x, frame.y1 + 3, x, frame.y1 + 3 + (told ? kTick : kTick / 2), kQuiet, 0.6);
    if (told) pen.text(x - pen.width_of(number(i), kNumber) / 2, frame.y1 + 4 + kTick + kNumber, number(i), kNumber, kQuiet);
  }
  for (int i = 0; sheet.y1 - i * step > sheet.y0 - 0.1; ++i) {
    double const y = sheet.y1 - i * step;
    bool const told = i % every == 0;
    pen.line(frame.x0 - 3, y, frame.x0 - 3 - (told ? kTick : kTick / 2), y, kQuiet, 0.6);
    if (!told) continue;
    double const wide = pen.width_of(number(i), kNumber), left = frame.x0 - 5 - kTick - wide;
    pen.rectangle(left - 1, y - kNumber * 0.5, wide + 2, kNumber, kWhite);  // lines to labels pass beneath it
    pen.text(left, y + kNumber * 0.36, number(i), kNumber, kQuiet);
  }
}

/// Of each finding, on the drawing.
std::vector<std::vector<DrawnRect>> places_of(ProofPage const& page, SheetView const& view, OnDrawing const& on, DrawnRect const& frame) {
  std::vector<std::vector<DrawnRect>> all;
  for (auto const& f : page.findings) {
    auto& places = all.emplace_back();
    for (auto const& place : f.places) {
      auto const r = on.of(view.art.apply(place));
      places.push_back({std::clamp(r.x0 - 2, frame.x0, frame.x1), std::clamp(r.y0 - 2, frame.y0, frame.y1), std::clamp(r.x1 + 2, frame.x0, frame.x1),
                        std::clamp(r.y1 + 2, frame.y0, frame.y1)});
    }
  }
  return all;
}

/// One number for all places of a finding at one side: where there are more than lines go to, it says how many.
void draw_marks(ProofCanvas& pen, ProofPage const& page, std::vector<std::vector<DrawnRect>> const& places, DrawnRect const& beside) {
  for (std::size_t i = 0; i < places.size(); ++i)
    for (auto const& p : places[i]) draw_place(pen, p.x0, p.y0, p.x1 - p.x0, p.y1 - p.y0, page.findings[i].level);
  auto const labels = side_labels(beside, kLabelGap, kLabelSide, places);
  for (auto const& label : labels)
    for (auto const& l : label.lines) pen.rimmed_line(l.x0, l.y0, l.x1, l.y1, ink_of(page.findings[label.finding].level), 0.9);
  for (auto const& label : labels) {
    auto const level = page.findings[label.finding].level;
    for (auto const& l : label.lines) pen.disc(l.x1, l.y1, 2, ink_of(level), kWhite, 0.6);
    double const y = (label.box.y0 + label.box.y1) / 2;
    draw_badge(pen, (label.box.x0 + label.box.x1) / 2, y, level, static_cast<int>(label.finding) + 1);
    if (label.count <= label.lines.size()) continue;
    std::string const many = "x" + std::to_string(label.count);
    double const outward = label.right ? label.box.x1 + 1 : label.box.x0 - 1 - pen.width_of(many, kNumber);
    pen.text(outward, y + kNumber * 0.36, many, kNumber, kInk);
  }
}

}  // namespace

void draw_laid_sheet(ProofCanvas& pen, Proof const& proof, ProofPage const& page, SheetView const& view, OnDrawing const& on) {
  auto const sheet = on.of(proof.target.sheet.page()), live = on.of(proof.target.sheet.live_area());
  draw_ground(pen, proof.ground, sheet);
  pen.clip_hatch(sheet.x0, sheet.y0, sheet.x1 - sheet.x0, sheet.y1 - sheet.y0, live.x0, live.y0, live.x1 - live.x0, live.y1 - live.y0);
  draw_art(pen, page, view, on);
  pen.rimmed_outline(live.x0, live.y0, live.x1 - live.x0, live.y1 - live.y0, kQuiet, 0.9, {4, 3});
  pen.rimmed_outline(sheet.x0, sheet.y0, sheet.x1 - sheet.x0, sheet.y1 - sheet.y0, kInk, 1.2, {});
  pen.rectangle(sheet.x0, sheet.y0 - 3.4, sheet.x1 - sheet.x0, 4.6, kWhite);
  pen.rectangle(sheet.x0, sheet.y0 - 2.6, sheet.x1 - sheet.x0, 3.2, kInk);
}

void draw_proof_sheet(ProofCanvas& pen, Proof const& proof, ProofPage const& page, SheetView const& view, OnDrawing const& on) {
  auto const frame = on.of(on.frame), sheet = on.of(proof.target.sheet.page());
  draw_laid_sheet(pen, proof, page, view, on);
  draw_feed_arrow(pen, proof, sheet, frame.y0);
  draw_marks(pen, page, places_of(page, view, on, frame), {frame.x0 - kRuler, frame.y0, frame.x1, frame.y1});
  draw_rulers(pen, proof, frame, sheet, on.scale);
}

}  // namespace layright
