// InkDevice: groups, soft masks and tiles.
#include <cmath>

#include "marks/ink_device.h"
#include "marks/leave_mark.h"

namespace layright {

void InkDevice::begin_group(int blend_mode, float alpha) {
  int const mode = blend_mode & FZ_BLEND_MODEMASK;
  bool const darkens = mode == FZ_BLEND_MULTIPLY || mode == FZ_BLEND_DARKEN;
  bool const blends = mode != FZ_BLEND_NORMAL && !darkens;
  clips_.push_group(alpha, darkens, blends, layer().ledger.marks());
}

void InkDevice::end_group() { clips_.pop(); }

void InkDevice::begin_mask(bool luminosity, fz_colorspace* space, float const* backdrop, fz_color_params params) {
  layers_.emplace_back();
  layer().rule = luminosity ? InkRule::luminosity : InkRule::any_paint;
  if (luminosity && space && backdrop) layer().backdrop = luminance(rgb_of(ctx_, space, backdrop, params));
  clips_.push_base();
}

void InkDevice::end_mask() {
  if (layers_.size() < 2) return;
  Layer const mask = std::move(layers_.back());
  layers_.pop_back();
  clips_.pop();
  if (mask.backdrop > kFaint) return clips_.push_fading(clips_.top().bounds);  // light wherever nothing is drawn
  clips_.push_fading(mask.ledger.hull());
}

void InkDevice::begin_tile(fz_rect view, float xstep, float ystep, fz_matrix ctm) {
  Layer tile;
  tile.rule = layer().rule;
  tile.view = view;
  tile.xstep = xstep;
  tile.ystep = ystep;
  tile.matrix = from_library(ctm);
  layers_.push_back(std::move(tile));
  clips_.push_base();
}

void InkDevice::end_tile() {
  if (layers_.size() < 2) return;
  Layer const tile = std::move(layers_.back());
  layers_.pop_back();
  clips_.pop();
  if (!tile.ledger.hull()) return;
  leave({clips_.top().bounds, false, false, {true, false}}, [&](std::optional<Box> const& window) { return window ? window : std::optional(clips_.top().bounds); });
}

}  // namespace layright
