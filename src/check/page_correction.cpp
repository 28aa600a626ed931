#include <algorithm>
#include <cmath>

#include "check/common.h"
#include "check/rows.h"
#include "place/correction.h"

namespace layright {
namespace {

using Correction = Matrix<SheetSpace, SheetSpace>;

/// How far the two take a corner of the page apart; points. Between the corners they differ by less.
double farthest(Correction const& a, Correction const& b, Rect<SheetSpace> const& page) {
  double most = 0;
  for (double const x : {page.x0, page.x1})
    for (double const y : {page.y0, page.y1}) {
      auto const p = a.apply(Point<SheetSpace>{x, y}), q = b.apply(Point<SheetSpace>{x, y});
      most = std::max(most, std::hypot(p.x - q.x, p.y - q.y));
    }
  return most;
}

std::vector<Finding> page_correction_findings(PageView const& view) {
  Page const& page = view.page;
  if (!can_be_seen(page) || sheet_match(page.seen, view.target) != SheetMatch::as_fed) return {};
  auto const has = page.record && page.record->holds ? page.record->correction : Correction{};
  auto const needs = correction_of(view.target);
  double const off = farthest(has, needs, view.target.sheet.page());
  if (off <= view.target.limits.size_tolerance.in_points()) return {};
  Finding f{.check = "page.correction", .level = Level::fix};
  std::string const by = "by up to " + format_excess(off, view.unit);
  f.message = needs == Correction{} ? "the page was corrected for a press, and this target asks for no correction: it would print off its place " + by
              : has == Correction{}
                  ? "the page is not corrected for the press, which by its trial sheet prints off its place " + by
                  : "the page was corrected for another press, or before the press was last tried: it would print off its place " + by;
  f.message += "; `lay` corrects it";
  f.where = page.seen.rect();
  f.measured = {{"off_pt", off}};
  f.wanted = {{"off_pt", view.target.limits.size_tolerance.in_points()}};
  return {f};
}

}  // namespace

CheckInfo page_correction() {
  return {.id = "page.correction",
          .levels = "fix",
          .title = "the page does not undo the shift and stretch of the press as it should",
          .measures = "how far a corner of the page would print off its place, in points",
          .limit = "0.5 pt (size tolerance of the limits); the press's trial sheet, where its table says correct = true",
          .source = "our own: what a person read off the trial sheet of this press",
          .does_not_cover = "pages of other sizes, or that lie the other way: `lay` places them again anyway",
          .explain =
              "Presses put the art a little to one side and pull it a little long or short. A trial sheet shows by how much (layright trial), "
              "and where the press's table says correct = true, `lay` moves and stretches each page the other way, so that it prints in its "
              "place. A page that was not laid, or was laid before the press was last tried, does not have that correction, or another one. "
              "Which correction a laid page has stands in its record. `lay` writes the right one, from the source, never on top of the other.",
          .page = page_correction_findings};
}

}  // namespace layright
