#include <algorithm>
#include <cmath>

#include "report/proof_module/proof_layout.h"

namespace layright {
namespace {

constexpr double kStripe = 2.2;  // points on the proof

GoodsColor ground_color(ProofGround ground) { return ground == ProofGround::dark ? GoodsColor{36, 38, 46} : GoodsColor{245, 245, 240}; }
Ink goods_ink(GoodsColor const& c) { return {c[0] / 255.0, c[1] / 255.0, c[2] / 255.0}; }

/// The sheet is turned over in the press, so what reads wrong on it reads right on the goods. Where nobody asks how it reads it stays as it came.
bool is_mirrored_back(Proof const& proof, ProofPage const& page) {
  return proof.target.reading != WantedReading::as_is && page.reading == Reading::wrong;
}

}  // namespace

void draw_ground(ProofCanvas& pen, ProofGround ground, DrawnRect const& r) {
  if (ground != ProofGround::checker) return pen.rectangle(r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0, goods_ink(ground_color(ground)));
  constexpr double kSquare = 6;
  pen.rectangle(r.x0, r.y0, r.x1 - r.x0, r.y1 - r.y0, kWhite);
  for (double y = r.y0; y < r.y1; y += kSquare)
    for (double x = r.x0 + (std::fmod((y - r.y0) / kSquare, 2) < 1 ? 0 : kSquare); x < r.x1; x += 2 * kSquare)
      pen.rectangle(x, y, std::min(kSquare, r.x1 - x), std::min(kSquare, r.y1 - y), {0.92, 0.93, 0.94});
}

bool loses_white(Proof const& proof, ProofPage const& page) { return !proof.target.white_prints() && !page.lost_white.empty(); }

std::optional<ProofGround> shown_goods(Proof const& proof, ProofPage const& page) {
  if (proof.goods) return proof.goods;
  if (proof.target.dark_goods && loses_white(proof, page)) return ProofGround::dark;
  return std::nullopt;
}

SeenSize worn_size(ProofPage const& page) {
  auto const ink = page.ink.value_or(page.seen.rect());
  return {ink.width() * page.scale, ink.height() * page.scale};
}

DrawnRect draw_worn(ProofCanvas& pen, Proof const& proof, ProofPage const& page, ProofGround goods, bool mark_lost, DrawnRect const& room) {
  double const w = room.x1 - room.x0, h = room.y1 - room.y0;
  auto const color = proof.color.value_or(ground_color(goods));
  pen.rectangle(room.x0, room.y0, w, h, goods_ink(color));
  auto const ink = page.ink.value_or(page.seen.rect());
  double const rim = 0.04 * std::max(ink.width(), ink.height()) + 1;
  auto const shown = ink.grown(rim);
  double const scale = std::min(w / shown.width(), h / shown.height());
  double const x = room.x0 + (w - shown.width() * scale) / 2, y = room.y0 + (h - shown.height() * scale) / 2;
  if (page.picture.width > 0) {
    bool const back = is_mirrored_back(proof, page);
    auto const draw = [&](cairo_surface_t* pixels) {
      draw_cut_out(pen, pixels, page.picture, shown, scale, x, y, back);
      cairo_surface_destroy(pixels);
    };
    if (page.white.empty()) draw(cairo_pixels(page.picture, proof.target.white_prints() ? PaperWhite::kept : PaperWhite::clear));
    else draw(cairo_pixels(pressed(page.picture, page.white, color), PaperWhite::kept));
    if (mark_lost && loses_white(proof, page)) draw(striped_white(page.picture, page.lost_white, kStripe / scale));
  }
  pen.outline(room.x0, room.y0, w, h, kPale, 0.6);
  return {x + rim * scale, y + rim * scale, x + (rim + ink.width()) * scale, y + (rim + ink.height()) * scale};
}

void draw_plate(ProofCanvas& pen, Proof const& proof, ProofPage const& page, DrawnRect const& room) {
  ProofPage alone = page;
  alone.picture = plate_alone(page.picture, page.white);
  alone.white.clear();
  draw_worn(pen, proof, alone, ProofGround::dark, false, room);
}

}  // namespace layright
