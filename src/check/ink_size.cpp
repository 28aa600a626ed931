#include "check/common.h"
#include "check/rows.h"
#include "place/correction.h"
#include "tile/tile_room.h"

namespace layright {
namespace {

/// Our own: art that fits once it is a tenth smaller is not worth a seam.
constexpr double kSmallShrink = 0.9;

Finding held(PageView const& view, PlaceRefusal const& refusal) {
  auto const live = view.target.sheet.live_area();
  Finding f{.check = "ink.size", .level = Level::hold};
  f.message = refusal.message;
  int const sheets = tiles_for_too_large(refusal.needs.width, refusal.needs.height, view.target);
  f.measured = size_figures(refusal.needs.width, refusal.needs.height);
  f.wanted = size_figures(live.width(), live.height());
  f.wanted.emplace_back("largest_scale_pct", refusal.largest_scale * 100);
  if (sheets < 2 || refusal.largest_scale >= kSmallShrink) return f;
  f.message += "; or part it over " + std::to_string(sheets) + " sheets (layright tile)";
  f.measured.emplace_back("sheets", static_cast<double>(sheets));
  return f;
}

/// Nothing where the art fits at its own size.
std::optional<PlaceRefusal> too_large_as_it_is(PageView const& view, Rect<SeenSpace> const& ink) {
  PlacementOptions keep;
  keep.turn = view.target.placement.turn;
  auto const meant = as_meant(view.page, ink);
  auto const result = place_for(view.target, keep, {meant, meant, meant}, false, view.unit);
  auto const* refusal = std::get_if<PlaceRefusal>(&result);
  return refusal ? std::optional(*refusal) : std::nullopt;
}

/// One that was laid before, where nobody asks for another.
bool keeps_its_scale(PageView const& view) { return view.page.record && view.page.record->holds && !view.target.placement.asked.size; }

std::vector<Finding> ink_size_findings(PageView const& view) {
  if (!can_be_seen(view.page) || !view.marks || !view.marks->ink || !view.marks->ink_known) return {};
  auto const& ink = *view.marks->ink;
  auto const result = placement_for(view, ink);
  std::optional<Finding> f;
  if (auto const* refusal = std::get_if<PlaceRefusal>(&result)) {
    f = held(view, *refusal);
  } else if (auto const& placement = std::get<Placement>(result); placement.outside) {
    f = Finding{.check = "ink.size", .level = Level::note, .message = "ink will lie outside the live area, as --allow-outside allows"};
  } else if (auto const scale = view.target.placement.scale;
             (scale == PlacementOptions::Scale::fit || scale == PlacementOptions::Scale::shrink) && !keeps_its_scale(view)) {
    auto const too_large = too_large_as_it_is(view, ink);
    if (!too_large) return {};
    f = held(view, *too_large);
    f->level = Level::fix;
    auto const live = view.target.sheet.live_area();
    f->message = "the art is " + size_text(too_large->needs.width, too_large->needs.height, view.unit) + ", larger than the live area of " +
                 size_text(live.width(), live.height(), view.unit) + "; `lay` scales it to " + scale_words(view, placement.scale) + ", as asked";
  }
  if (!f) return {};
  f->where = ink;
  return {*f};
}

}  // namespace

CheckInfo ink_size() {
  return {.id = "ink.size",
          .levels = "hold; fix with fit or shrink; note with --allow-outside",
          .title = "the art is larger than the live area at the asked scale",
          .measures = "width and height of the ink at the asked scale, as it would lie on the sheet, in points",
          .limit = "the sheet less its margins (sheet, margin); the scale, turn and place that are asked for (placement)",
          .source = "common practice, no published source (art stays inside the margin)",
          .does_not_cover = "where ink lies on a page of the sheet's size (ink.margin)",
          .explain =
              "layright tries to put the art on the sheet as it is asked to: at its own size (keep), at a percentage, or at a width or height "
              "on the goods; as it is or turned by a quarter turn; by its ink, its trim box or its page. If it cannot lie whole inside the "
              "live area, `lay` refuses it rather than cutting it or making it smaller without a word, and this check says by how much it is "
              "too large and which scale would fit. With --scale shrink or --scale fit it is made smaller, and this is only reported. "
              "--allow-outside lets ink lie outside the live area all the same. `layright tile` parts it over several sheets at its own size.",
          .needs_marks = true,
          .page = ink_size_findings};
}

}  // namespace layright
