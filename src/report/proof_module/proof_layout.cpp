#include "report/proof_module/proof_layout.h"

#include <algorithm>

#include "report/not_made.h"
#include "report/proof_module/badge.h"
#include "report/proof_module/cut_out.h"
#include "report/proof_module/entry.h"

namespace layright {
namespace {

// Points. The sheet's longer side, and the column of the list beside it.
constexpr double kSide = 560, kColumn = 270, kGap = 26, kMargin = 28, kHead = 64, kArrowRoom = 40, kFoot = 30;
constexpr double kText = 8.5, kLine = 11.5;
constexpr double kCutWide = 116, kCutHigh = 34, kCutGap = 5;
constexpr std::size_t kMostCuts = 3;

struct Item {
  ProofFinding const* finding;
  int number;
  std::vector<std::string> lines;
  std::vector<CutOut> cuts;  // of the page, where a person must say which way it reads
  double height() const {
    double cut_height = cuts.empty() ? 0 : kLine;
    for (CutOut const& cut : cuts) cut_height += cut.height + kCutGap;
    return 15 + static_cast<double>(lines.size()) * kLine + cut_height + 7;
  }
};

/// The lines that were looked at, of a page whose reading they did not settle; the largest first.
std::vector<CutOut> cuts_of(ProofFinding const& finding) {
  if (finding.check != "reading.unknown" && finding.check != "reading.mixed") return {};
  auto places = finding.places;
  std::ranges::stable_sort(places, [](auto const& a, auto const& b) { return a.area() > b.area(); });
  std::vector<CutOut> cuts;
  for (std::size_t i = 0; i < places.size() && cuts.size() < kMostCuts; ++i) {
    auto const shown = [&](std::size_t j) {
      auto const both = intersection(places[i], places[j]);
      return both && both->area() > places[i].area() / 2;  // a second look at the same line
    };
    bool again = false;
    for (std::size_t j = 0; j < i; ++j) again = again || shown(j);
    if (!again) cuts.push_back(cut_out(places[i], kCutWide, kCutHigh));
  }
  return cuts;
}

std::string sheet_words(Proof const& proof) {
  Sheet const& s = proof.target.sheet;
  std::string line = (proof.target.name.empty() ? std::string("sheet ") : "target " + proof.target.name + ", ") +
                     format_size(s.width, s.length, proof.unit) + ", " + (s.feed == Feed::short_edge ? "short" : "long") + " edge first";
  if (proof.target.reading != WantedReading::as_is) line += ", the printed sheet reads " + std::string(word(proof.target.reading));
  return line;
}

std::string verdict_words(ProofPage const& page) {
  switch (page.verdict) {
    case Verdict::ready: return "ready";
    case Verdict::fix: return "fix: lay mends it";
    case Verdict::hold: break;
  }
  return "hold: a person must decide";
}

/// One page of the proof: what is on it and how large it is.
struct Layout {
  double scale, sheet_w, sheet_h, width, height, goods_h = 0;
  std::vector<Item> items;
};

Layout layout_of(ProofCanvas& pen, Proof const& proof, ProofPage const& page) {
  auto const sheet = proof.target.sheet.page();
  Layout l{};
  l.scale = kSide / std::max(sheet.width(), sheet.height());
  l.sheet_w = sheet.width() * l.scale;
  l.sheet_h = sheet.height() * l.scale;
  double list = 0;
  int number = 0;
  for (auto const& f : page.findings) {
    l.items.push_back({&f, ++number, pen.broken(f.message, kColumn - 24, kText), page.picture.width > 0 ? cuts_of(f) : std::vector<CutOut>()});
    list += l.items.back().height();
  }
  if (proof.goods) l.goods_h = 210;
  double const column = 22 + std::max(list, 30.0) + (proof.goods ? l.goods_h + 34 : 0);
  l.width = kMargin + l.sheet_w + kGap + kColumn + kMargin;
  l.height = kHead + std::max(kArrowRoom + l.sheet_h + kFoot, column) + kMargin;
  return l;
}

/// Each as it is and reversed, side by side.
void draw_cuts(ProofCanvas& pen, ProofPage const& page, std::vector<CutOut> const& cuts, double x, double y) {
  if (cuts.empty()) return;
  cairo_surface_t* const pixels = cairo_pixels(page.picture, false);
  pen.text(x, y + 8, "as it is", 7.5, kQuiet);
  pen.text(x + kCutWide + kCutGap, y + 8, "reversed", 7.5, kQuiet);
  y += kLine;
  for (CutOut const& cut : cuts) {
    for (double left = x; bool const reversed : {false, true}) {
      draw_cut_out(pen, pixels, page.picture, cut.piece, cut.scale, left, y, reversed);
      pen.outline(left, y, cut.piece.width() * cut.scale, cut.height, kPale, 0.5);
      left += kCutWide + kCutGap;
    }
    y += cut.height + kCutGap;
  }
  cairo_surface_destroy(pixels);
}

void draw_list(ProofCanvas& pen, ProofPage const& page, Layout const& l, double x, double y) {
  pen.text(x, y, l.items.empty() ? "Nothing was found" : "What was found", 10, kInk, true);
  y += 18;
  if (l.items.empty()) pen.text(x, y, "The checks that ran have nothing to say.", kText, kQuiet);
  for (Item const& item : l.items) {
    draw_badge(pen, x + 8, y, item.finding->level, item.number);
    std::string const title = std::string(level_word(item.finding->level)) + "  " + item.finding->check;
    pen.text(x + 24, y + 3, title, 9, ink_of(item.finding->level), true);
    if (item.finding->places.empty()) pen.text(x + 24 + pen.width_of(title, 9, true) + 6, y + 3, "(no single place)", 7.5, kQuiet);
    double foot = y + 15;
    for (auto const& line : item.lines) {
      pen.text(x + 24, foot, line, kText, kInk);
      foot += kLine;
    }
    draw_cuts(pen, page, item.cuts, x + 24, foot - kLine + 4);
    y += item.height();
  }
}

void draw_page(ProofCanvas& pen, Proof const& proof, ProofPage const& page, Layout const& l) {
  std::string title = page.file + ", page " + std::to_string(page.number);
  // The first line of a name that is too long; a letter is never cut in two.
  if (auto const lines = pen.broken(title, (l.width - 2 * kMargin) * 0.88, 14); lines.size() > 1) title = lines[0] + " …";
  pen.text(kMargin, kMargin + 6, title, 14, kInk, true);
  pen.text(kMargin, kMargin + 22, verdict_words(page), 10,
           ink_of(page.verdict == Verdict::hold  ? Level::hold
                  : page.verdict == Verdict::fix ? Level::fix
                                                 : Level::note),
           true);
  pen.text(kMargin + pen.width_of(verdict_words(page), 10, true) + 10, kMargin + 22, sheet_words(proof), 9, kQuiet);
  double const top = kHead + kArrowRoom;
  draw_proof_sheet(pen, proof, page, kMargin, top, l.scale);
  std::string below = "The sheet at " + format_number(l.scale * 100, 0) + " % of its size; a tick is an inch. Dashed: the live area.";
  if (!page.placement) below = "Not placed: the page is shown as it came. " + below;
  double foot = top + l.sheet_h + 14;
  for (auto const& line : pen.broken(below, std::max(l.sheet_w, 200.0), 7.5)) {
    pen.text(kMargin, foot, line, 7.5, kQuiet);
    foot += 9.5;
  }
  double const x = kMargin + l.sheet_w + kGap;
  double y = kHead + 14;
  if (proof.goods) {
    pen.text(x, y, std::string("On ") + (*proof.goods == ProofGround::dark ? "dark" : "light") + " goods, roughly", 10, kInk, true);
    draw_goods(pen, proof, page, x, y + 10, kColumn, l.goods_h);
    y += l.goods_h + 34;
  }
  draw_list(pen, page, l, x, y);
}

}  // namespace

std::string draw_proof(Proof const& proof) {
  if (proof.pages.empty()) throw NotMade("there is no page to show");
  // Words are measured on a drawing of its own, before the size of the real one is known.
  ProofCanvas measure(ProofForm::png, 72, 10, 10);
  auto first = layout_of(measure, proof, proof.pages[0]);
  ProofCanvas pen(proof.form, std::clamp(proof.dpi, 72.0, 300.0), first.width, first.height);
  draw_page(pen, proof, proof.pages[0], first);
  for (std::size_t i = 1; i < proof.pages.size() && proof.form == ProofForm::pdf; ++i) {
    auto const next = layout_of(measure, proof, proof.pages[i]);
    pen.next_page(next.width, next.height);
    draw_page(pen, proof, proof.pages[i], next);
  }
  return pen.finish();
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
