#include <algorithm>

#include "report/proof_module/badge.h"
#include "report/proof_module/proof_layout.h"

namespace layright {
namespace {

constexpr double kText = 8.5, kLine = 11.5, kWhere = 7.5, kWhereLine = 9.5, kIndent = 24;
constexpr double kCutWide = 116, kCutHigh = 34, kCutGap = 5;
constexpr std::size_t kMostCuts = 3, kMostPlaces = 2;

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

/// Where it lies on the printed sheet, by its rulers.
std::vector<std::string> where_lines(ProofFinding const& finding, SheetView const& view, Unit unit) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < finding.places.size() && i < kMostPlaces; ++i) lines.push_back(place_words(view.art.apply(finding.places[i]), unit));
  if (auto const more = finding.places.size() - lines.size(); more > 0)
    lines.back() += "; " + std::to_string(more) + (more == 1 ? " more place" : " more places");
  return lines;
}

/// Each as it is and reversed, side by side.
void draw_cuts(ProofCanvas& pen, ProofPage const& page, std::vector<CutOut> const& cuts, double x, double y) {
  if (cuts.empty()) return;
  cairo_surface_t* const pixels = cairo_pixels(page.picture, PaperWhite::kept);
  pen.text(x, y + 8, "as it is", 7.5, kQuiet);
  pen.text(x + kCutWide + kCutGap, y + 8, "mirrored", 7.5, kQuiet);
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

}  // namespace

double ListedFinding::height() const {
  double cut_height = cuts.empty() ? 0 : kLine;
  for (CutOut const& cut : cuts) cut_height += cut.height + kCutGap;
  return 15 + static_cast<double>(lines.size()) * kLine + static_cast<double>(where.size()) * kWhereLine + cut_height + 9;
}

std::vector<ListedFinding> listed_findings(ProofCanvas& pen, Proof const& proof, ProofPage const& page, SheetView const& view, double width) {
  std::vector<ListedFinding> list;
  for (auto const& f : page.findings) {
    ListedFinding item{&f, static_cast<int>(list.size()) + 1, pen.broken(f.message, width - kIndent, kText), {}, {}};
    for (auto const& where : where_lines(f, view, proof.unit))
      for (auto& line : pen.broken(where, width - kIndent, kWhere)) item.where.push_back(std::move(line));
    if (page.picture.width > 0) item.cuts = cuts_of(f);
    list.push_back(std::move(item));
  }
  return list;
}

void draw_list(ProofCanvas& pen, ProofPage const& page, std::vector<ListedFinding> const& list, double x, double y) {
  pen.text(x, y, list.empty() ? "Nothing was found" : "What was found", 10, kInk, true);
  y += 18;
  for (ListedFinding const& item : list) {
    draw_badge(pen, x + 8, y, item.finding->level, item.number);
    std::string const title =
        std::string(level_word(item.finding->level)) + (item.finding->accepted ? ", accepted" : "") + "  " + item.finding->check;
    pen.text(x + kIndent, y + 3, title, 9, ink_of(item.finding->level), true);
    double foot = y + 15;
    for (auto const& line : item.lines) {
      pen.text(x + kIndent, foot, line, kText, kInk);
      foot += kLine;
    }
    foot += kWhereLine - kLine;
    for (auto const& line : item.where) {
      pen.text(x + kIndent, foot + 1, line, kWhere, kQuiet);
      foot += kWhereLine;
    }
    draw_cuts(pen, page, item.cuts, x + kIndent, foot - kWhereLine + 4);
    y += item.height();
  }
}

}  // namespace layright
