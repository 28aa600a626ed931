#include "marks/clip_stack.h"

namespace layright {

Clip ClipStack::next(Clip::Kind kind) const {
  Clip clip = stack_.back();
  clip.kind = kind;
  clip.image = nullptr;
  return clip;
}

void ClipStack::push_box(SeenRect const& box, void const* image) {
  Clip clip = next(Clip::Kind::clip);
  clip.image = image;
  if (auto const both = intersection(clip.bounds, box)) {
    if (!clip.upright && *both != clip.bounds) {
      if (clip.region) {
        auto const part = clip.region->extents_within(*both);
        clip.empty = clip.empty || !part;
        clip.bounds = part.value_or(*both);
      } else {
        clip.exact = false;
        clip.bounds = *both;
      }
    } else {
      clip.bounds = *both;
    }
  } else {
    clip.empty = true;
  }
  stack_.push_back(std::move(clip));
}

void ClipStack::push_region(std::shared_ptr<Polygon const> region) {
  Clip clip = next(Clip::Kind::clip);
  auto const part = region->extents_within(clip.bounds);
  if (!part) {
    clip.empty = true;
  } else if (clip.upright && region->covers(clip.bounds)) {
    // The region hides nothing that was not hidden before.
  } else {
    bool const first = clip.upright;
    clip.bounds = *part;
    clip.exact = first;
    clip.region = first ? std::move(region) : nullptr;
    clip.upright = false;
  }
  stack_.push_back(std::move(clip));
}

void ClipStack::push_shape(std::optional<SeenRect> const& extents, void const* image) {
  Clip clip = next(Clip::Kind::clip);
  auto const part = extents ? intersection(clip.bounds, *extents) : std::nullopt;
  clip.empty = clip.empty || !part;
  if (part) {
    clip.exact = clip.upright && *part == *extents;
    clip.bounds = *part;
  }
  clip.upright = false;
  clip.region = nullptr;
  clip.image = image;
  stack_.push_back(std::move(clip));
}

void ClipStack::push_fading(std::optional<SeenRect> const& extents) {
  push_shape(extents);
  stack_.back().exact = false;
  stack_.back().kind = Clip::Kind::mask;
}

void ClipStack::push_group(float alpha, bool darkens, bool blends, long since) {
  Clip clip = next(Clip::Kind::group);
  clip.alpha *= alpha;
  if (darkens || blends) clip.since = since;
  clip.darkens = clip.darkens || darkens;
  clip.blends = clip.blends || blends;
  stack_.push_back(std::move(clip));
}

void ClipStack::push_base() {
  Clip clip;
  clip.alpha = stack_.back().alpha;
  clip.empty = stack_.back().empty;
  stack_.push_back(std::move(clip));
}

Clip ClipStack::lift() {
  Clip clip = std::move(stack_.back());
  if (stack_.size() > 1) stack_.pop_back();
  return clip;
}

void ClipStack::pop() {
  if (stack_.size() > 1) stack_.pop_back();
}

}  // namespace layright
