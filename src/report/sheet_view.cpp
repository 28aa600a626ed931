#include "report/sheet_view.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace layright {
namespace {

constexpr double kPast = 0.05;  // points: less is arithmetic

std::string unit_word(Unit unit) { return unit == Unit::inch ? " in" : unit == Unit::millimetre ? " mm" : " pt"; }

/// To a hundredth of an inch, a tenth of a millimeter or a point.
std::string short_number(double points, Unit unit) {
  auto const length = Length::points(points);
  if (unit == Unit::inch) return format_number(points / 72, 2);
  return unit == Unit::millimetre ? format_number(length.in_millimetres(), 1) : format_number(points, 0);
}

std::string range_words(double from, double to, Unit unit) {
  std::string const a = short_number(from, unit), b = short_number(to, unit);
  return (a == b ? a : a + " to " + b) + unit_word(unit);
}

}  // namespace

SheetView sheet_view(Target const& target, SeenSize const& seen, std::optional<Rect<SeenSpace>> const& ink,
                     std::optional<Matrix<SeenSpace, SheetSpace>> const& placement) {
  auto const sheet = target.sheet.page();
  SheetView view;
  view.art = placement.value_or(Matrix<SeenSpace, SheetSpace>{1, 0, 0, 1, (sheet.width() - seen.width) / 2, (sheet.height() - seen.height) / 2});
  if (placement && target.reading != WantedReading::as_is && reverses_later(target))
    view.art = then(view.art, Matrix<SheetSpace, SheetSpace>{-1, 0, 0, 1, sheet.width(), 0});
  view.ink = view.art.apply(ink.value_or(seen.rect()));
  double const beyond = (kMostSheetsShown - 1) / 2 * std::max(sheet.width(), sheet.height());
  view.frame = united(sheet, *intersection(united(sheet, view.ink), sheet.grown(beyond)));
  view.whole = view.frame.contains(view.ink, kPast);
  return view;
}

std::string goods_length(double points, Unit unit) { return short_number(points, unit) + unit_word(unit); }

std::string past_edges(SheetView const& view, Sheet const& sheet, Unit unit) {
  auto const page = sheet.page();
  std::vector<std::pair<std::string, std::string>> past;  // by how much, over which edges
  auto const add = [&](double by, char const* edge) {
    if (by <= kPast) return;
    std::string const words = goods_length(by, unit);
    if (!past.empty() && past.back().first == words) past.back().second += std::string(" and ") + edge;
    else past.emplace_back(words, edge);
  };
  add(page.x0 - view.ink.x0, "left");
  add(view.ink.x1 - page.x1, "right");
  add(page.y0 - view.ink.y0, "bottom");
  add(view.ink.y1 - page.y1, "top");
  std::string text;
  for (auto const& [by, edges] : past) text += (text.empty() ? "" : ", ") + by + " past the " + edges;
  return text;
}

std::string place_words(Rect<SheetSpace> const& place, Unit unit) {
  return range_words(place.x0, place.x1, unit) + " from the left, " + range_words(place.y0, place.y1, unit) + " from the bottom";
}

}  // namespace layright
