#include <algorithm>
#include <cmath>

#include "report/proof_module/badge.h"
#include "report/proof_module/proof_layout.h"

namespace layright {
namespace {

constexpr double kTick = 3;

/// From the page's seen space to the printed sheet, and whether that shows the art the other way round.
Matrix<SeenSpace, SheetSpace> to_printed(Proof const& proof, ProofPage const& page) {
  auto const sheet = proof.target.sheet.page();
  if (!page.placement) {
    // As it came: in the middle, made smaller only where it would not go on at all.
    double const k = std::min({1.0, sheet.width() / std::max(page.seen.width, 1.0), sheet.height() / std::max(page.seen.height, 1.0)});
    return {k, 0, 0, k, (sheet.width() - k * page.seen.width) / 2, (sheet.height() - k * page.seen.height) / 2};
  }
  bool const reversed_later = proof.target.reverse_at != ReverseAt::file && proof.target.reading != WantedReading::as_is;
  if (!reversed_later) return *page.placement;
  return then(*page.placement, Matrix<SheetSpace, SheetSpace>{-1, 0, 0, 1, sheet.width(), 0});
}

/// From the sheet to the drawing, y down.
struct OnDrawing {
  double x, y, scale, height;  // of the sheet, in points
  double px(double v) const { return x + v * scale; }
  double py(double v) const { return y + (height - v) * scale; }
};

cairo_matrix_t pixels_to_points(PagePicture const& picture, Matrix<SeenSpace, SheetSpace> const& m, OnDrawing const& d) {
  double const k = 72 / picture.dpi;
  auto const at = [&](double px, double py) {
    auto const p = m.apply(Point<SeenSpace>{picture.area.x0 + px * k, picture.area.y1 - py * k});
    return Point<SheetSpace>{d.px(p.x), d.py(p.y)};
  };
  auto const o = at(0, 0), right = at(1, 0), down = at(0, 1);
  cairo_matrix_t out;
  cairo_matrix_init(&out, right.x - o.x, right.y - o.y, down.x - o.x, down.y - o.y, o.x, o.y);
  return out;
}

Ink ground_ink(ProofGround ground) { return ground == ProofGround::dark ? Ink{0.14, 0.15, 0.18} : Ink{0.96, 0.96, 0.94}; }

void draw_ground(ProofCanvas& pen, ProofGround ground, double x, double y, double w, double h) {
  if (ground != ProofGround::checker) return pen.rectangle(x, y, w, h, ground_ink(ground));
  constexpr double kSquare = 6;
  pen.rectangle(x, y, w, h, kWhite);
  for (double row = 0; row < h; row += kSquare)
    for (double column = std::fmod(row / kSquare, 2) < 1 ? 0 : kSquare; column < w; column += 2 * kSquare)
      pen.rectangle(x + column, y + row, std::min(kSquare, w - column), std::min(kSquare, h - row), {0.92, 0.93, 0.94});
}

void draw_art(ProofCanvas& pen, ProofPage const& page, cairo_matrix_t const& matrix, bool white_is_clear, double x, double y, double w, double h) {
  if (page.picture.width < 1) return;
  cairo_surface_t* const pixels = cairo_pixels(page.picture, white_is_clear);
  pen.picture(pixels, matrix, x, y, w, h);
  cairo_surface_destroy(pixels);
}

void draw_feed_edge(ProofCanvas& pen, Proof const& proof, double x, double y, double w) {
  pen.rectangle(x, y - 2.2, w, 4.4, kInk);
  double const middle = x + w / 2, foot = y - 6, tip = y - 26;
  pen.polygon({{middle, tip},
               {middle + 8, tip + 9},
               {middle + 2.5, tip + 9},
               {middle + 2.5, foot},
               {middle - 2.5, foot},
               {middle - 2.5, tip + 9},
               {middle - 8, tip + 9}},
              kInk, kInk, 0.5);
  std::string const words = std::string("this ") + (proof.target.sheet.feed == Feed::short_edge ? "short" : "long") + " edge first";
  pen.text(middle + 14, y - 11, words, 8.5, kInk, true);
}

struct DrawnRect {
  double x0, y0, x1, y1;
  bool meets(DrawnRect const& o) const { return x0 < o.x1 && o.x0 < x1 && y0 < o.y1 && o.y0 < y1; }
};

/// Marks are put at a corner of their place, or beside it with a line to it, wherever no other mark is yet.
class BadgePlacer {
 public:
  BadgePlacer(ProofCanvas& pen, DrawnRect const& room) : pen_(pen), room_(room) {}

  void put(DrawnRect const& place, Level level, int number, std::string const& label) {
    double const r = kBadge * 1.3 + 1;
    double const width = label.empty() ? 0 : pen_.width_of(label, kLabel, true) + 6;
    std::pair<double, double> best{place.x0, place.y0};
    for (double const step : {0.0, 17.0, 34.0, 51.0, 68.0}) {
      bool found = false;
      for (auto const& [x, y] : {std::pair{place.x0, place.y0 - step},
                                 {place.x1, place.y0 - step},
                                 {place.x0, place.y1 + step},
                                 {place.x1, place.y1 + step},
                                 {place.x0 - step, place.y0},
                                 {place.x1 + step, place.y1}}) {
        double const inside_x = std::clamp(x, room_.x0 + r, std::max(room_.x0 + r, room_.x1 - r - width)),
                     inside_y = std::clamp(y, room_.y0 + r, room_.y1 - r);
        DrawnRect const box{inside_x - r, inside_y - r, inside_x + r + width, inside_y + r};
        if (std::ranges::any_of(taken_, [&](DrawnRect const& t) { return t.meets(box); })) continue;
        best = {inside_x, inside_y};
        found = true;
        break;
      }
      if (found) break;
    }
    auto const [x, y] = best;
    taken_.push_back({x - r, y - r, x + r + width, y + r});
    put_.push_back({x, y, r + width, std::clamp(x, place.x0, place.x1), std::clamp(y, place.y0, place.y1), level, number, label});
  }

  /// All lines first, so that none crosses a mark.
  void draw() {
    for (Put const& p : put_) {
      if (std::hypot(p.x - p.to_x, p.y - p.to_y) <= kBadge) continue;
      pen_.line(p.x, p.y, p.to_x, p.to_y, kWhite, 3);
      pen_.line(p.x, p.y, p.to_x, p.to_y, ink_of(p.level), 1);
    }
    for (Put const& p : put_) {
      if (!p.label.empty()) {
        pen_.rectangle(p.x, p.y - 6, p.width, 12, kWhite);
        pen_.outline(p.x, p.y - 6, p.width, 12, ink_of(p.level), 0.6);
        pen_.text(p.x + kBadge * 1.3 + 3, p.y + 2.7, p.label, kLabel, ink_of(p.level), true);
      }
      draw_badge(pen_, p.x, p.y, p.level, p.number);
    }
  }

 private:
  static constexpr double kLabel = 7.5;
  struct Put {
    double x, y, width;  // of its middle, and of its label from there
    double to_x, to_y;   // the nearest of its place
    Level level;
    int number;
    std::string label;
  };
  ProofCanvas& pen_;
  DrawnRect room_;
  std::vector<DrawnRect> taken_;
  std::vector<Put> put_;
};

}  // namespace

void draw_proof_sheet(ProofCanvas& pen, Proof const& proof, ProofPage const& page, double x, double y, double scale) {
  auto const sheet = proof.target.sheet.page();
  auto const live = proof.target.sheet.live_area();
  OnDrawing const d{x, y, scale, sheet.height()};
  double const w = sheet.width() * scale, h = sheet.height() * scale;
  draw_ground(pen, proof.ground, x, y, w, h);
  pen.clip_hatch(x, y, w, h, d.px(live.x0), d.py(live.y1), live.width() * scale, live.height() * scale);
  auto const matrix = to_printed(proof, page);
  if (page.picture.width > 0) draw_art(pen, page, pixels_to_points(page.picture, matrix, d), false, x, y, w, h);
  pen.outline(d.px(live.x0), d.py(live.y1), live.width() * scale, live.height() * scale, kQuiet, 0.8, {4, 3});
  for (double at = 72; at < sheet.width(); at += 72) pen.line(d.px(at), y + h, d.px(at), y + h + kTick, kQuiet, 0.6);
  for (double at = 72; at < sheet.height(); at += 72) pen.line(x - kTick, d.py(at), x, d.py(at), kQuiet, 0.6);
  pen.outline(x, y, w, h, kInk, 1.2);
  draw_feed_edge(pen, proof, x, y, w);
  BadgePlacer badges(pen, {x, y, x + w, y + h});
  // Outlines first, so that no outline runs over a number.
  struct Mark {
    DrawnRect box;
    Level level;
    int number;
    std::string label;
  };
  std::vector<Mark> all;
  for (std::size_t i = 0; i < page.findings.size(); ++i) {
    auto const& f = page.findings[i];
    for (std::size_t p = 0; p < f.places.size(); ++p) {
      auto const r = matrix.apply(f.places[p]);
      DrawnRect box{d.px(r.x0) - 2, d.py(r.y1) - 2, d.px(r.x1) + 2, d.py(r.y0) + 2};
      // Where it runs off the sheet, what lies on it.
      box = {std::clamp(box.x0, x, x + w), std::clamp(box.y0, y, y + h), std::clamp(box.x1, x, x + w), std::clamp(box.y1, y, y + h)};
      all.push_back({box, f.level, static_cast<int>(i) + 1, p == 0 ? f.check : std::string()});
    }
  }
  for (Mark const& m : all) draw_place(pen, m.box.x0, m.box.y0, m.box.x1 - m.box.x0, m.box.y1 - m.box.y0, m.level);
  for (Mark const& m : all) badges.put(m.box, m.level, m.number, m.label);
  badges.draw();
}

void draw_goods(ProofCanvas& pen, Proof const& proof, ProofPage const& page, double x, double y, double w, double h) {
  pen.rectangle(x, y, w, h, ground_ink(*proof.goods));
  auto const sheet = proof.target.sheet.page();
  auto matrix = to_printed(proof, page);
  // Pressing turns the sheet over: what reads wrong on it reads right on the goods.
  bool const turned_over = proof.target.reading == WantedReading::wrong;
  if (turned_over) matrix = then(matrix, Matrix<SheetSpace, SheetSpace>{-1, 0, 0, 1, sheet.width(), 0});
  // Only the art, as large as there is room.
  auto const art = matrix.apply(Rect<SeenSpace>{0, 0, std::max(page.seen.width, 1.0), std::max(page.seen.height, 1.0)}).grown(9);
  double const scale = std::min(w / art.width(), h / art.height());
  OnDrawing const d{x + (w - art.width() * scale) / 2 - art.x0 * scale, y + (h - art.height() * scale) / 2 - (sheet.height() - art.y1) * scale, scale,
                    sheet.height()};
  if (page.picture.width > 0) draw_art(pen, page, pixels_to_points(page.picture, matrix, d), !proof.target.white_prints(), x, y, w, h);
  pen.outline(x, y, w, h, kPale, 0.6);
}

}  // namespace layright
