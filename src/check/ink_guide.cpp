#include <algorithm>
#include <cmath>

#include "check/common.h"
#include "check/rows.h"
#include "place/correction.h"

namespace layright {
namespace {

/// A rectangle that a guide would follow, and its name.
struct Edge {
  Rect<SeenSpace> rect;
  char const* name;
};

/// The page and its live area. On a page of another size the live area is the page less the sheet's margins, and, where `lay` keeps the
/// scale, what comes to lie on the sheet's live area.
std::vector<Edge> edges_of(PageView const& view) {
  Page const& page = view.page;
  auto const seen = page.seen.rect();
  std::vector<Edge> edges{{seen, "the page"}};
  auto const match = sheet_match(page.seen, view.target);
  if (match != SheetMatch::other_size) {
    edges.push_back({live_area_seen(page, view.target, match), "the live area"});
    return edges;
  }
  auto const& m = view.target.sheet.margins;
  edges.push_back({Rect<SeenSpace>::from_corners(seen.x0 + m.left.in_points(), seen.y0 + m.bottom.in_points(), seen.x1 - m.right.in_points(),
                                                 seen.y1 - m.top.in_points()),
                   "the page less the margin"});
  auto const* placement = view.placement ? std::get_if<Placement>(view.placement) : nullptr;
  if (placement && placement->scale == 1) {
    if (auto const back = placement->matrix.inverted()) edges.push_back({back->apply(live_area_of_file(view.target)), "the live area"});
  }
  return edges;
}

/// The farthest that a side of `a` lies from the same side of `b`.
double distance(Rect<SeenSpace> const& a, Rect<SeenSpace> const& b) {
  return std::max({std::abs(a.x0 - b.x0), std::abs(a.y0 - b.y0), std::abs(a.x1 - b.x1), std::abs(a.y1 - b.y1)});
}

std::vector<Finding> ink_guide_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks) return {};
  constexpr double kReadingNoise = 1e-3;  // points: what reading a page's marks in 32-bit floats leaves
  Limits const& limits = view.target.limits;
  auto const edges = edges_of(view);
  for (FrameMark const& frame : view.marks->frames) {
    if (frame.stroke > limits.guide_stroke.in_points() + kReadingNoise) continue;
    if (frame.other_ink && !frame.middle.contains(*frame.other_ink, frame.stroke / 2 + kReadingNoise)) continue;
    auto const nearest = std::ranges::min_element(edges, {}, [&](Edge const& e) { return distance(frame.middle, e.rect); });
    double const far = distance(frame.middle, nearest->rect);
    if (far > limits.guide_near.in_points() + kReadingNoise) continue;
    Finding f{.check = "ink.guide", .level = Level::hold};
    f.message = (frame.stroke > 0 ? "a frame " + format_excess(frame.stroke, view.unit) + " wide" : std::string("a hairline frame")) +
                " runs round the art along the edge of " + nearest->name +
                (far < 0.05 ? "" : " (at most " + format_excess(far, view.unit) + " off it)") +
                " and would print: it looks like a guide that was left in; take it "
                "out and save the file, or accept it with --accept ink.guide if it is part of the art";
    f.where = frame.middle.grown(frame.stroke / 2);
    f.measured = {{"stroke_pt", frame.stroke}, {"off_edge_pt", far}};
    f.wanted = {{"stroke_pt", limits.guide_stroke.in_points()}, {"off_edge_pt", limits.guide_near.in_points()}};
    return {f};
  }
  return {};
}

}  // namespace

CheckInfo ink_guide() {
  return {.id = "ink.guide",
          .levels = "hold",
          .title = "a frame that was drawn as a guide would print",
          .measures = "stroked, unfilled, closed frames (or four lines): the stroke's width and its distance from the edges, in points",
          .limit =
              "at most 3 pt wide, within 9 pt of the live area's or the page's edge on all four sides, all other ink inside "
              "(guide-stroke and guide-near, of the limits)",
          .source = "common practice, no published source; the limits are our own",
          .does_not_cover = "frames with a fill, frames of dashes that do not close, guides that do not print",
          .explain =
              "People draw a rectangle a quarter inch inside the page to see where the art must stop, and forget to take it out. On film it "
              "prints as a thin frame that has to be weeded or is pressed onto the goods. A frame counts as a guide when it is one closed "
              "thin outline without a fill, follows the edge of the live area or of the page on all four sides, and has everything else "
              "inside it. A border that is part of the art looks just the same: accept it with --accept ink.guide.",
          .needs_marks = true,
          .page = ink_guide_findings};
}

}  // namespace layright
