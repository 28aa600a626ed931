#include <cmath>

#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

/// "6 in too short", "0.5 in too wide and 1 in too short", with the page held the way that comes nearest.
std::string difference(SeenSize const& seen, Target const& target, Unit unit) {
  auto const sheet = target.sheet.page();
  bool const turned = (seen.width > seen.height) != (sheet.width() > sheet.height());
  double const w = (turned ? seen.height : seen.width) - sheet.width(), h = (turned ? seen.width : seen.height) - sheet.height();
  double const tolerance = target.limits.size_tolerance.in_points();
  std::vector<std::string> parts;
  if (std::abs(w) > tolerance) parts.push_back(format_excess(std::abs(w), unit) + (w < 0 ? " too narrow" : " too wide"));
  if (std::abs(h) > tolerance) parts.push_back(format_excess(std::abs(h), unit) + (h < 0 ? " too short" : " too long"));
  return joined(parts) + (turned ? " (turned to lie as the sheet does)" : "");
}

std::vector<Finding> page_size_findings(PageView const& view) {
  Page const& page = view.page;
  if (!can_be_seen(page) || sheet_match(page.seen, view.target) != SheetMatch::other_size) return {};
  return {size_finding("page.size",
                       "the page is " + size_text(page.seen.width, page.seen.height, view.unit) + " as seen, the sheet " +
                           sheet_text(view.target.sheet, view.unit) + ": it is " + difference(page.seen, view.target, view.unit) +
                           "; `lay` puts its art on a page of the sheet's size, at the scale that --scale says",
                       view)};
}

}  // namespace

CheckInfo page_size() {
  return {.id = "page.size",
          .levels = "fix",
          .title = "the page has another size than the sheet",
          .measures = "width and height of what is seen of the page, in points",
          .limit = "the sheet's width and length within 0.5 pt each, either way round (sheet; size tolerance of the limits)",
          .source = "ISO 32000-1, 14.11.2 and Table 30; the tolerance is our own",
          .does_not_cover = "which edge feeds first (page.feed); where on the page the art lies (ink.margin, ink.size)",
          .explain =
              "A page of another size than the sheet leaves it to the printer what to do with it: some scale it to fit, some clip it, some "
              "stop and ask, and a custom sheet is then lost. What counts is what a viewer shows: the crop box, turned by Rotate and "
              "enlarged by UserUnit, not the numbers of the media box. Half a point (0.18 mm) of difference is let pass, since programs "
              "round sizes that are given in millimeters. `lay` makes a page of exactly the sheet's size and puts the art on it; it does "
              "not change the art's size unless --scale, --width or --height asks for that.",
          .page = page_size_findings};
}

}  // namespace layright
