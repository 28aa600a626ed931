// What lies in the bleed box is there to be cut off.
#include <algorithm>
#include <array>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "check/common.h"
#include "check/rows.h"
#include "geometry/places.h"

namespace layright {
namespace {

/// One side of a mark against the edge of what is seen.
struct Side {
  char const* name;
  double beyond;      // by how much the mark passes the edge of what is seen
  double past_bleed;  // and the edge of the bleed
  double bleed_seen;  // how much bleed is seen there: from the trim to the edge
};

std::array<Side, 4> sides_of(CutMark const& mark, Page const& page) {
  auto const seen = page.seen.rect();
  auto const& m = mark.whole;
  auto const bleed = page.to_seen.apply(intersection(page.boxes.bleed, page.boxes.media).value_or(page.boxes.crop));
  auto const trim = page.has_trim ? page.seen_trim() : seen;
  return {{{"left", seen.x0 - m.x0, bleed.x0 - m.x0, trim.x0 - seen.x0},
           {"bottom", seen.y0 - m.y0, bleed.y0 - m.y0, trim.y0 - seen.y0},
           {"right", m.x1 - seen.x1, m.x1 - bleed.x1, seen.x1 - trim.x1},
           {"top", m.y1 - seen.y1, m.y1 - bleed.y1, seen.y1 - trim.y1}}};
}

/// Every side that is cut ends in the bleed box, or is cut where the page shows bleed, beyond the trim.
bool only_bleed(std::array<Side, 4> const& sides, double limit) {
  return std::ranges::all_of(sides, [&](Side const& s) { return s.beyond <= limit || s.past_bleed <= limit || s.bleed_seen > limit; });
}

std::string where_cut(std::array<Side, 4> const& sides, double limit, Unit unit) {
  std::vector<std::string> parts;
  for (Side const& s : sides) {
    if (s.beyond > limit) parts.push_back(format_excess(s.beyond, unit) + " at the " + s.name);
  }
  return joined(parts);
}

/// `group`: at least one.
Finding finding(std::vector<CutMark> group, Level level, PageView const& view) {
  std::ranges::stable_sort(group, std::greater(), &CutMark::beyond);
  CutMark const& worst = group.front();
  double const limit = view.target.limits.cut.in_points();
  Finding f{.check = "ink.cut", .level = level};
  f.where = worst.whole;
  for (std::size_t i = 1; i < std::min(group.size(), kMostArtPlaces); ++i) f.places.push_back(group[i].whole);
  auto const count = static_cast<long>(group.size());
  f.measured = {{"beyond_pt", worst.beyond}, {"count", static_cast<double>(count)}};
  f.wanted = {{"beyond_pt", limit}};
  bool const one = count == 1;
  std::string const far = where_cut(sides_of(worst, view.page), limit, view.unit);
  if (level == Level::hold) {
    f.message = "the edge of the page cuts off " + counted(count, "mark", "marks") + ", " + (one ? "" : "the farthest ") + "by " + far +
                "; ask for the art whole, on a larger page, or accept it with --accept ink.cut";
  } else {
    f.message = counted(count, "flat ground or piece of bleed", "flat grounds or pieces of bleed") + (one ? " runs" : " run") + " off the page, " +
                (one ? "" : "the farthest ") + "by " + far + "; what lies beyond the edge does not print";
  }
  return f;
}

std::vector<Finding> ink_cut_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks) return {};
  double const limit = view.target.limits.cut.in_points();
  std::vector<CutMark> cut, bled;
  for (CutMark const& mark : view.marks->cut) {
    if (mark.beyond <= limit) continue;
    (mark.flat_ground || only_bleed(sides_of(mark, view.page), limit) ? bled : cut).push_back(mark);
  }
  std::vector<Finding> findings;
  if (!cut.empty()) findings.push_back(finding(std::move(cut), Level::hold, view));
  if (!bled.empty()) findings.push_back(finding(std::move(bled), Level::note, view));
  return findings;
}

}  // namespace

CheckInfo ink_cut() {
  return {.id = "ink.cut",
          .levels = "hold; note for a flat ground or art that ends in the bleed",
          .title = "a mark is partly in, partly out of what is seen",
          .measures = "how far marks pass the edge of what is seen, in points",
          .limit = "1 pt (cut, of the limits)",
          .source = "ISO 32000-1, 14.11.2; the limit is our own",
          .does_not_cover = "marks wholly outside (page.crop); art that a clip cuts, which is meant",
          .explain =
              "A letter or a picture that the page's edge cuts in two is usually an accident: the artboard was too small or something "
              "was moved. On film nothing is trimmed, so the cut would show on the goods. A mark may pass the edge by a point, as strokes do. A "
              "flat ground of one color that runs off the page, art that ends inside the bleed box, and art that is cut where the page shows "
              "bleed beyond its trim box are reported but not held: they are made to be cut. Marks wholly outside do not count.",
          .needs_marks = true,
          .page = ink_cut_findings};
}

}  // namespace layright
