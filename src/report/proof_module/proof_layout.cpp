#include "report/proof_module/proof_layout.h"

#include <algorithm>

#include "report/not_made.h"
#include "report/proof_module/badge.h"
#include "report/proof_module/entry.h"

namespace layright {
namespace {

// Points. The frame's longer side, the sheet's at least, and the column of the list beside it.
constexpr double kSide = 560, kLeastSide = 170, kColumn = 270, kMargin = 28, kHead = 80, kFoot = 44;
constexpr double kLeft = kMargin + kLabelSide + kLabelGap + kRuler, kBeside = kLabelGap + kLabelSide + 18;
constexpr double kGoods = 210;
constexpr double kSmallSide = 216, kSmallRim = 5;  // of a picture for lists
constexpr double kSmall = 7.5, kSmallLine = 9.5;

std::string sheet_words(Proof const& proof) {
  Sheet const& s = proof.target.sheet;
  std::string line = (proof.target.name.empty() ? std::string("Sheet ") : "Target " + proof.target.name + ", ") +
                     format_size(s.width, s.length, proof.unit) + ", " + (s.feed == Feed::short_edge ? "short" : "long") + " edge first";
  if (proof.target.reading == WantedReading::wrong) line += ", prints mirrored";
  if (proof.target.reading == WantedReading::right) line += ", prints right-reading";
  return line;
}

std::string verdict_words(Verdict verdict, bool plain) {
  switch (verdict) {
    case Verdict::ready: return "ready";
    case Verdict::fix: return plain ? "fixed when it is laid" : "fix: lay does it";
    case Verdict::hold: break;
  }
  return "hold: someone must decide";
}

/// "Prints 10 x 12.4 in, at 100%   2026-03-01   job 17"
std::string size_words(Proof const& proof, ProofPage const& page) {
  auto const size = worn_size(page);
  std::string line = "Prints " + goods_length(size.width, proof.unit) + " wide, " + goods_length(size.height, proof.unit) + " high, at " +
                     format_number(page.scale * 100, 1) + "%";
  if (!proof.date.empty()) line += "   " + proof.date;
  if (!proof.job.empty()) line += "   job " + proof.job;
  return line;
}

std::string below_words(Proof const& proof, ProofPage const& page, SheetView const& view, double scale) {
  std::string text;
  if (auto const past = past_edges(view, proof.target.sheet, proof.unit); !past.empty())
    text = "The art does not fit. At its true size it goes " + past + (view.whole ? ". " : ", more than is shown. ");
  else if (!page.placed) text = "Not laid yet: a hold is open. ";
  return text + "Drawn at " + format_number(scale * 100, 0) +
         "% of real size. Rulers: " + (proof.unit == Unit::millimetre ? "millimeters" : "inches") +
         " from the sheet's left and bottom edge. Dashed: live area.";
}

/// One page of the proof: what is on it and how large it is.
struct Layout {
  SheetView view;
  OnDrawing on;
  double frame_w, frame_h, width, height;
  std::optional<ProofGround> goods;
  std::vector<ListedFinding> list;
};

Layout layout_of(ProofCanvas& pen, Proof const& proof, ProofPage const& page) {
  auto const sheet = proof.target.sheet.page();
  Layout l{};
  l.view = sheet_view(proof.target, page.seen, page.ink, page.placement);
  auto const& frame = l.view.frame;
  double const scale = std::max(kSide / std::max(frame.width(), frame.height()), kLeastSide / std::max(sheet.width(), sheet.height()));
  l.on = {kLeft, kHead + kArrowRoom, scale, frame};
  l.frame_w = frame.width() * scale;
  l.frame_h = frame.height() * scale;
  l.goods = shown_goods(proof, page);
  l.list = listed_findings(pen, proof, page, l.view, kColumn);
  double column = 30 + (l.goods ? kGoods + 48 : 0) + (page.white.empty() ? 0 : kGoods + 34);
  for (auto const& item : l.list) column += item.height();
  l.width = kLeft + l.frame_w + kBeside + kColumn + kMargin;
  l.height = kHead + std::max(kArrowRoom + l.frame_h + kFoot, column) + kMargin;
  return l;
}

void draw_head(ProofCanvas& pen, Proof const& proof, ProofPage const& page, Layout const& l) {
  std::string const title = page.file + ", page " + std::to_string(page.number) + (page.of > 1 ? " of " + std::to_string(page.of) : "");
  // A letter of a name that is too long is never cut in two.
  pen.text(kMargin, kMargin + 6, pen.cut(title, (l.width - 2 * kMargin) * 0.88, 14), 14, kInk, true);
  std::string const verdict = verdict_words(page.verdict, proof.plain);
  draw_verdict(pen, kMargin + 5, kMargin + 19, page.verdict);
  pen.text(kMargin + 15, kMargin + 22, verdict, 10, ink_of(page.verdict), true);
  pen.text(kMargin + 15 + pen.width_of(verdict, 10, true) + 10, kMargin + 22, sheet_words(proof), 9, kQuiet);
  pen.text(kMargin, kMargin + 37, size_words(proof, page), 10, kInk, true);
}

void draw_page(ProofCanvas& pen, Proof const& proof, ProofPage const& page, Layout const& l) {
  draw_head(pen, proof, page, l);
  draw_proof_sheet(pen, proof, page, l.view, l.on);
  double foot = l.on.y + l.frame_h + 26;
  for (auto const& line : pen.broken(below_words(proof, page, l.view, l.on.scale), std::max(l.frame_w, 240.0), kSmall)) {
    pen.text(kLeft, foot, line, kSmall, kQuiet);
    foot += kSmallLine;
  }
  double const x = kLeft + l.frame_w + kBeside;
  double y = kHead + 14;
  if (l.goods) {
    bool const dark = *l.goods == ProofGround::dark, lost = dark && loses_white(proof, page);
    pen.text(x, y,
             std::string("On ") +
                 (proof.color ? ""
                  : dark      ? "dark "
                              : "light ") +
                 "goods" + (proof.color ? " of this color" : "") + ", roughly",
             10, kInk, true);
    draw_worn(pen, proof, page, *l.goods, lost, {x, y + 10, x + kColumn, y + 10 + kGoods});
    if (lost) pen.text(x, y + kGoods + 20, "Striped: white that will not print. The goods show there.", kSmall, kInk);
    y += kGoods + 44;
  }
  if (!page.white.empty()) {
    pen.text(x, y, "White plate, by itself", 10, kInk, true);
    draw_plate(pen, proof, page, {x, y + 10, x + kColumn, y + 10 + kGoods});
    y += kGoods + 34;
  }
  draw_list(pen, page, l.list, x, y);
}

std::string draw_shop_proof(Proof const& proof) {
  // Words are measured on a drawing of its own, before the size of the real one is known.
  ProofCanvas measure(ProofForm::png, 72, 10, 10);
  auto const first = layout_of(measure, proof, proof.pages[0]);
  ProofCanvas pen(proof.form, std::clamp(proof.dpi, 72.0, 300.0), first.width, first.height);
  draw_page(pen, proof, proof.pages[0], first);
  for (std::size_t i = 1; i < proof.pages.size() && proof.form == ProofForm::pdf; ++i) {
    auto const next = layout_of(measure, proof, proof.pages[i]);
    pen.next_page(next.width, next.height);
    draw_page(pen, proof, proof.pages[i], next);
  }
  return pen.finish();
}

std::string draw_customer_proof(Proof const& proof) {
  auto const paper = customer_paper(proof);
  ProofCanvas pen(proof.form, std::clamp(proof.dpi, 72.0, 300.0), paper.width, paper.height);
  for (std::size_t i = 0; i < proof.pages.size() && (i == 0 || proof.form == ProofForm::pdf); ++i) {
    if (i > 0) pen.next_page(paper.width, paper.height);
    draw_customer_page(pen, proof, proof.pages[i]);
  }
  return pen.finish();
}

/// One page of it, small and without a word.
std::string draw_alone(Proof const& proof) {
  auto const& page = proof.pages[0];
  double const dpi = std::clamp(proof.dpi, 72.0, 300.0);
  if (proof.audience == ProofFor::art) {
    ProofCanvas pen(proof.form, dpi, kSmallSide, kSmallSide);
    auto const goods = proof.goods.value_or(proof.target.dark_goods ? ProofGround::dark : ProofGround::light);
    draw_worn(pen, proof, page, goods, true, {0, 0, kSmallSide, kSmallSide});
    return pen.finish();
  }
  auto const view = sheet_view(proof.target, page.seen, page.ink, page.placement);
  double const scale = kSmallSide / std::max(view.frame.width(), view.frame.height());
  ProofCanvas pen(proof.form, dpi, view.frame.width() * scale + 2 * kSmallRim, view.frame.height() * scale + 2 * kSmallRim);
  pen.rectangle(0, 0, view.frame.width() * scale + 2 * kSmallRim, view.frame.height() * scale + 2 * kSmallRim, kWhite);
  draw_laid_sheet(pen, proof, page, view, {kSmallRim, kSmallRim, scale, view.frame});
  return pen.finish();
}

}  // namespace

std::string draw_proof(Proof const& proof) {
  if (proof.pages.empty()) throw NotMade("there is no page to show");
  if (proof.audience == ProofFor::art || proof.audience == ProofFor::sheet) return draw_alone(proof);
  return proof.audience == ProofFor::customer ? draw_customer_proof(proof) : draw_shop_proof(proof);
}

}  // namespace layright

extern "C" __attribute__((visibility("default"))) bool layright_make_proof(layright::Proof const& proof, std::string& out) {
  try {
    out = layright::draw_proof(proof);
    return true;
  } catch (...) {
    out = layright::why_not_made();
    return false;
  }
}
