// What a customer signs: nothing of sheets, presses and checks.
#include <algorithm>
#include <string>

#include "report/proof_module/proof_layout.h"

namespace layright {
namespace {

constexpr double kEdge = 40, kTop = 118, kSizes = 34, kBelow = 186;  // points: of the paper, above the art, for its sizes, under it

/// The width below the art, and the height at its left, each with a line from edge to edge.
void draw_sizes(ProofCanvas& pen, Proof const& proof, ProofPage const& page, DrawnRect const& art, DrawnRect const& room) {
  auto const size = worn_size(page);
  double const y = room.y1 + 14, x = room.x0 - 12;
  pen.line(art.x0, y, art.x1, y, kInk, 1);
  pen.line(art.x0, y - 4, art.x0, y + 4, kInk, 1);
  pen.line(art.x1, y - 4, art.x1, y + 4, kInk, 1);
  std::string const wide = goods_length(size.width, proof.unit) + " wide", high = goods_length(size.height, proof.unit);
  pen.text((art.x0 + art.x1) / 2 - pen.width_of(wide, 13, true) / 2, y + 17, wide, 13, kInk, true);
  pen.line(x, art.y0, x, art.y1, kInk, 1);
  pen.line(x - 4, art.y0, x + 4, art.y0, kInk, 1);
  pen.line(x - 4, art.y1, x + 4, art.y1, kInk, 1);
  double const middle = (art.y0 + art.y1) / 2, left = x - 6;
  pen.text(left - pen.width_of(high, 13, true), middle, high, 13, kInk, true);
  pen.text(left - pen.width_of("high", 13, true), middle + 16, "high", 13, kInk, true);
}

void draw_signature(ProofCanvas& pen, double x0, double x1, double y) {
  auto const blank = [&](double from, double to, double at, char const* words) {
    pen.line(from, at, to, at, kInk, 0.8);
    pen.text(from, at + 12, words, 9, kQuiet);
  };
  auto const box = [&](double x, double at, char const* words) {
    pen.outline(x, at - 10, 12, 12, kInk, 1);
    pen.text(x + 18, at, words, 12, kInk, true);
  };
  box(x0, y, "OK to print");
  box(x0 + 130, y, "Change this:");
  pen.line(x0 + 245, y + 2, x1, y + 2, kInk, 0.8);
  double const wide = x1 - x0;
  blank(x0, x0 + wide * 0.33, y + 48, "Name");
  blank(x0 + wide * 0.37, x0 + wide * 0.76, y + 48, "Signature");
  blank(x0 + wide * 0.80, x1, y + 48, "Date");
}

}  // namespace

/// Letter (ANSI/ASME Y14.1 A) where inches are the unit, else ISO 216 A4.
SeenSize customer_paper(Proof const& proof) {
  if (proof.unit != Unit::millimetre) return {612, 792};
  return {Length::millimetres(210).in_points(), Length::millimetres(297).in_points()};
}

void draw_customer_page(ProofCanvas& pen, Proof const& proof, ProofPage const& page) {
  auto const paper = customer_paper(proof);
  double const right = paper.width - kEdge;
  pen.text(kEdge, 58, "Please check your print", 22, kInk, true);
  std::string facts = proof.job.empty() ? "" : "Job " + proof.job;
  if (!proof.date.empty()) facts += (facts.empty() ? "" : "   ") + proof.date;
  pen.text(kEdge, 80, pen.cut(page.file, right - kEdge - pen.width_of(facts, 11) - 20, 11), 11, kInk);
  pen.text(right - pen.width_of(facts, 11), 80, facts, 11, kInk);
  if (page.of > 1) pen.text(kEdge, 98, "Design " + std::to_string(page.number) + " of " + std::to_string(page.of), 11, kInk);
  double const high = pen.width_of(goods_length(worn_size(page).height, proof.unit), 13, true) + 24;
  DrawnRect const room{kEdge + high, kTop, right, paper.height - kBelow - kSizes};
  auto const goods = proof.goods.value_or(proof.target.dark_goods ? ProofGround::dark : ProofGround::light);
  auto const art = draw_worn(pen, proof, page, goods, false, room);
  draw_sizes(pen, proof, page, art, room);
  double y = paper.height - kBelow + 24;
  auto const say = [&](std::string const& words) {
    pen.text(kEdge, y, words, 10.5, kInk);
    y += 15;
  };
  say("Check the spelling, the size and the colors. We print what you sign.");
  say("Screens and office printers show colors only roughly.");
  if (loses_white(proof, page)) say("White is not printed: the color of your item shows there, as in the picture.");
  draw_signature(pen, kEdge, right, paper.height - kBelow + 92);
}

}  // namespace layright
