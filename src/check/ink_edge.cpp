// Judged is the page where it has the sheet's size, else as `lay` would place it.
#include "check/common.h"
#include "check/rows.h"
#include "place/correction.h"

namespace layright {
namespace {

/// Where ink will lie once the page is laid, as the press gets it.
std::optional<Rect<SheetSpace>> laid_ink(PageView const& view) {
  auto const* placement = view.placement ? std::get_if<Placement>(view.placement) : nullptr;
  return placement && placement->ink ? std::optional(at_press(view.target, *placement->ink)) : std::nullopt;
}

std::vector<Finding> ink_edge_findings(PageView const& view) {
  if (!view.target.press.trial || !can_be_seen(view.page) || !view.marks || !view.marks->ink || !view.marks->ink_known) return {};
  auto const printable = printable_at_press(view.target);
  double const tolerance = view.target.limits.margin_tolerance.in_points();
  auto const laid = laid_ink(view);
  bool const as_it_is = sheet_match(view.page.seen, view.target) == SheetMatch::as_fed;
  auto const& seen = *view.marks->ink;
  auto const ink = as_it_is ? std::optional(at_press(view.target, Rect<SheetSpace>{seen.x0, seen.y0, seen.x1, seen.y1})) : laid;
  if (!ink || printable.contains(*ink, tolerance)) return {};
  bool const fixed = as_it_is && laid && printable.contains(*laid, tolerance);

  Finding f{.check = "ink.edge", .level = fixed ? Level::fix : Level::hold};
  auto const page = view.target.sheet.page();
  std::vector<std::string> parts;
  auto const side = [&](char const* name, char const* figure, double room, double blank) {
    f.measured.emplace_back(figure, room);
    f.wanted.emplace_back(figure, blank);
    if (blank - room > tolerance) parts.push_back(std::string(name) + " " + format_excess(blank - room, view.unit));
  };
  side("left", "left_pt", ink->x0 - page.x0, printable.x0 - page.x0);
  side("bottom", "bottom_pt", ink->y0 - page.y0, printable.y0 - page.y0);
  side("right", "right_pt", page.x1 - ink->x1, page.x1 - printable.x1);
  side("top", "top_pt", page.y1 - ink->y1, page.y1 - printable.y1);
  f.message = "by its trial sheet the press prints nothing there: ink would be lost at the edges of the printed sheet (" + joined(parts) + "); " +
              (fixed ? "`lay` moves it away from there"
                     : "lay it with wider margins (margin, in the sheet's or the target's table), make the art smaller, or try the press again");
  f.where = seen;
  return {f};
}

}  // namespace

CheckInfo ink_edge() {
  return {.id = "ink.edge",
          .levels = "fix where lay moves the ink away; else hold",
          .title = "ink lies where the press was seen to print nothing",
          .measures = "how far ink stays off each edge of the sheet as the press gets it, in points",
          .limit = "the strips that stayed blank on the press's trial sheet (left, bottom, right and top of layright trial --measured)",
          .source = "our own: what a person read off the trial sheet of this press",
          .does_not_cover = "presses that were not tried; what the driver says of its margins (the setup does)",
          .explain =
              "No press prints to the very edge, and some leave more blank than the sheet's margin allows for. The trial sheet has a ruler "
              "at each edge: the first tick that was printed tells how wide the strip is that this press leaves out. Ink that would lie "
              "there is lost without a word, so it is reported before film is spent. Give the sheet a margin that is at least as wide as the "
              "widest strip. Where the printer or the RIP reverses, left and right are those of the printed sheet.",
          .needs_marks = true,
          .page = ink_edge_findings};
}

}  // namespace layright
