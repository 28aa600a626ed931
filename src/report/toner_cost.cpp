// Common practice, no published source: a cartridge's pages are reported for a page of A4 of which it covers 5 %. ISO/IEC 19798 measures such
// pages for cyan, magenta, yellow and black on plain paper; its scope was read, its text was not.
#include "report/toner_cost.h"

#include <algorithm>
#include <cmath>

#include "check/common.h"
#include "geometry/length.h"

namespace layright {
namespace {

constexpr double kLeastReported = 0.0005;  // percent of the sheet

bool is_white(std::string const& ink, Target const& target) {
  auto const& names = target.limits.white_inks;
  return std::find(names.begin(), names.end(), ink) != names.end();
}

/// Mean tint of the page that is white toner.
double white_pct(Target const& target, PageToner const& toner, std::optional<double> made) {
  if (!target.white_prints()) return 0;
  double plate = 0;
  for (auto const& ink : toner.inks)
    if (is_white(ink.name, target)) plate += ink.coverage_pct;
  if (target.plate.from != PlateFrom::off) {  // what the art brings itself lies mostly within it
    if (!made) made = target.plate.from == PlateFrom::own ? toner.paper_white_pct : toner.painted_pct;
    return std::min(100.0, std::max(plate, *made));
  }
  if (!target.white.on) return std::min(100.0, plate + toner.paper_white_pct);
  return (plate > 0 ? plate : toner.painted_pct) * target.white.percent.value_or(100) / 100;
}

}  // namespace

std::vector<std::string> own_toners(Target const& target) {
  std::vector<std::string> own;
  if (target.white_prints()) own = target.limits.white_inks;
  for (auto const& [ink, price] : target.press.toner) own.push_back(ink);
  return own;
}

TonerCost toner_cost(Target const& target, PageToner const& toner, SeenSize const& seen, double scale, std::optional<double> plate_pt2) {
  TonerCost all{0, target.press.currency, {}};
  double const art = seen.width * seen.height * scale * scale, sheet = target.sheet.width.in_points() * target.sheet.length.in_points();
  auto const add = [&](std::string const& ink, double pct) {
    double const on_sheet = pct * art / sheet;
    if (!(on_sheet >= kLeastReported)) return;
    TonerUse use{ink, on_sheet, std::nullopt};
    if (auto const price = target.press.toner.find(ink); price != target.press.toner.end()) {
      TonerPrice const& p = price->second;
      use.cost = p.price / p.pages * (pct / p.coverage_pct) * (art / kRatedPageArea);
      all.cost += *use.cost;
    }
    all.inks.push_back(std::move(use));
  };
  for (auto const& ink : toner.inks)
    if (!target.white_prints() || !is_white(ink.name, target)) add(ink.name, ink.coverage_pct);
  if (plate_pt2) plate_pt2 = 100 * *plate_pt2 / art;
  add("White", white_pct(target, toner, plate_pt2));
  return all;
}

std::vector<std::string> without_price(TonerCost const& cost) {
  std::vector<std::string> names;
  for (auto const& use : cost.inks)
    if (!use.cost) names.push_back(use.ink);
  return names;
}

std::string toner_words(double cost, std::string const& currency, std::vector<std::string> const& without) {
  std::string text = "about " + format_number(cost, cost < 1 ? 3 : 2) + (currency.empty() ? "" : " " + currency);
  if (!without.empty()) text += ", without " + joined(without) + (without.size() == 1 ? ", whose price is not set" : ", whose prices are not set");
  return text;
}

std::string toner_words(TonerCost const& cost) { return toner_words(cost.cost, cost.currency, without_price(cost)); }

}  // namespace layright
