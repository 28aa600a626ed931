#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> white_under_findings(PageView const& view) {
  if (!view.inks || !view.target.white_prints() || view.inks->bare.count == 0) return {};
  PageInks const& inks = *view.inks;
  double const limit = view.target.limits.white_under_pct;
  auto f = art_finding("white.under", Level::note, inks.bare,
                       format_number(inks.bare_pct, 1) + " % of the art has less than " + format_number(limit, 0) + " % of the file's own white (" +
                           names_text(inks.white_plates) + ") under it" + where_text(inks.bare, view.unit) +
                           ": the goods will show through there; have the plate made again, and see that colors over it overprint it");
  f.measured = {{"area_pct", inks.bare_pct}, {"count", static_cast<double>(inks.bare.count)}};
  f.wanted = {{"white_pct", limit}};
  return {f};
}

}  // namespace

CheckInfo white_under() {
  return {.id = "white.under",
          .levels = "note",
          .title = "art lies without white under it, though the file brings its own white",
          .measures =
              "the tint of the plates that are listed as white, in percent, wherever the other inks together have at least 10 %, on a "
              "drawing of the page's separations at 36 pixels to the inch",
          .limit = "at least 50 % of white (white-under-pct, of the limits), but for strips under 6 pt wide",
          .source = "common practice, no published source",
          .does_not_cover =
              "strips under 6 pt (3 pixels) wide on the page, which a plate that is kept smaller than the art "
              "leaves; white that the press makes itself, as on a page whose plate is empty",
          .explain =
              "Toner lets light through: without white under them colors look dull on dark goods, or do not show. Where a file brings its "
              "white as a plate of its own, the press lays white where the plate says and nowhere else. The plate may have been "
              "forgotten under a part, or a color that does not overprint has knocked it out. Plates are commonly kept a little smaller "
              "than the art, so thin strips are left alone. The page is drawn small in its separations for this, so the check runs only "
              "where it is named: with --only white.under, or in a profile. A page without such a plate, or with an empty one, is not reported: "
              "there the press makes the white.",
          .needs_marks = true,
          .page = white_under_findings,
          .needs_inks = true};
}

}  // namespace layright
