// How a mark comes to count: its clips, the page's edge, and what it leaves in the ledger. For the parts of InkDevice only.
#pragma once
#include "marks/ink_device.h"

namespace layright {

// Where a mark shows, exactly where that can be known. A mark inside all clips is as it is. One cut by upright clips is measured inside
// them. Under one other clip a solid mark shows as much of the clip as it covers; else the sides are not sure.
template <class Exact>
std::optional<Extent> InkDevice::clipped(Mark const& mark, std::optional<SeenRect> const& limit, Exact&& exact) const {
  Clip const& clip = clips_.top();
  if (clip.empty) return std::nullopt;
  auto window = limit ? intersection(clip.bounds, *limit) : clip.bounds;
  if (!window) return std::nullopt;
  auto const inside = [&](SeenRect const& bounds) { return window->contains(bounds); };
  auto const measured = [&]() -> std::optional<SeenRect> {
    if (mark.solid) return intersection(mark.bounds, *window);
    return exact(inside(mark.bounds) ? std::optional<SeenRect>{} : window);
  };
  if (clip.upright) {
    auto const box = measured();
    if (!box) return std::nullopt;
    return Extent{*box, mark.gaps && !inside(mark.bounds) ? 0U : kAllSides};
  }
  if (mark.solid && mark.bounds.contains(clip.bounds) && window->contains(clip.bounds)) return Extent{clip.bounds, clip.exact ? kAllSides : 0U};
  if (clip.region) {
    if (mark.solid) {
      auto const both = intersection(mark.bounds, *window);
      auto const box = both ? clip.region->extents_within(*both) : std::nullopt;
      if (!box) return std::nullopt;
      return Extent{*box};
    }
    auto const box = measured();
    if (!box) return std::nullopt;
    return Extent{*box, clip.region->covers(*box) ? kAllSides : 0U};
  }
  auto const box = measured();
  if (!box) return std::nullopt;
  return Extent{*box, 0U};
}

template <class Covers>
void InkDevice::hide_text(SeenRect const& bounds, float opacity, Covers&& covers) {
  if (!reading_ || layers_.size() != 1 || type3_depth_ > 0 || !(opacity > kFull)) return;
  Clip const& clip = clips_.top();
  if (clip.empty || clip.blends || clip.darkens || !(clip.upright || clip.region)) return;
  auto const window = intersection(bounds, clip.bounds);
  if (!window) return;
  reading_->hide(*window, [&](SeenRect const& text) { return (clip.upright || clip.region->covers(text)) && covers(text); });
}

template <class Exact>
void InkDevice::leave(Mark const& mark, Exact&& exact) {
  if (on_page()) ++marks_.count;
  if (!wanted_.ink || clips_.top().empty) return;
  if (mark.paint.trace > 0 && (!mark.paint.covers || clips_.top().darkens) && !settled(mark.bounds)) add_faint(mark);
  if (!mark.paint.ink && !mark.paint.covers) return;
  auto const bounds = intersection(mark.bounds, clips_.top().bounds);
  if (!bounds) return;
  Layer& l = layer();
  bool const beyond = l.limit && !l.limit->contains(*bounds);
  if (!beyond && l.ledger.settled(*bounds)) return;  // as settled() says, quickly
  if (beyond && mark.paint.ink && layers_.size() == 1 && !in_text_) {
    if (auto const whole = clipped(mark, std::nullopt, exact)) note_cut(whole->box, mark.solid && mark.flat);
  }
  if (auto const extent = clipped(mark, l.limit, exact)) {
    enter(*extent, mark.solid && clips_.top().upright && mark.paint.full, mark.paint);
  }
}

}  // namespace layright
