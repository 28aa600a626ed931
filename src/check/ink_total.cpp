#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> ink_total_findings(PageView const& view) {
  if (!view.inks || view.inks->over.count == 0) return {};
  double const limit = view.target.limits.total_ink_pct;
  auto f = art_finding("ink.total", Level::note, view.inks->over,
                       "up to " + format_number(view.inks->total_max_pct, 0) + " % of ink lies at one place, over " +
                           format_number(view.inks->over_pct, 2) + " % of the page more than " + format_number(limit, 0) + " %" +
                           where_text(view.inks->over, view.unit) + ": so much toner may crack or stay soft; have the colors made with less");
  f.measured = {{"total_pct", view.inks->total_max_pct}, {"area_pct", view.inks->over_pct}, {"count", static_cast<double>(view.inks->over.count)}};
  f.wanted = {{"total_pct", limit}};
  return {f};
}

}  // namespace

CheckInfo ink_total() {
  return {.id = "ink.total",
          .levels = "note",
          .title = "too much toner lies at one place",
          .measures =
              "the sum of the tints of all inks at each place, in percent, on a drawing of the page's separations at 36 pixels to "
              "the inch",
          .limit = "at most 300 % (total-ink-pct, of the limits)",
          .source = "common practice, no published source",
          .does_not_cover = "what the press's own conversion makes of the colors",
          .explain =
              "Where all inks lie over each other at full strength, up to four layers of toner must be fused at once: they crack, curl "
              "the film or stay soft, and may come off in the press. The page is drawn small in its separations for this, so the check "
              "runs only where it is named: with --only ink.total, or in a profile. Small dots are evened out by the drawing. Each spot "
              "color counts as an ink of its own.",
          .needs_marks = true,
          .page = ink_total_findings,
          .needs_inks = true};
}

}  // namespace layright
