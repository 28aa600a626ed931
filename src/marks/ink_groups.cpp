// InkDevice: groups, soft masks and tiles.
#include <algorithm>
#include <cmath>

#include "marks/ink_device.h"
#include "marks/lattice.h"
#include "marks/leave_mark.h"

namespace layright {

void InkDevice::begin_group(MarkGroup const& group) {
  put_off_text_clip();
  int const mode = group.blend_mode & FZ_BLEND_MODEMASK;
  bool const darkens = mode == FZ_BLEND_MULTIPLY || mode == FZ_BLEND_DARKEN;
  bool const blends = mode != FZ_BLEND_NORMAL && !darkens;
  if (art_) art_->group(group.blend_mode, group.alpha);
  clips_.push_group(group.alpha, darkens, blends, layer().ledger.marks());
}

void InkDevice::end_group() { clips_.pop(); }

void InkDevice::begin_mask(bool luminosity, fz_colorspace* space, float const* backdrop, fz_color_params params) {
  put_off_text_clip();
  Layer mask;
  mask.rule = luminosity ? InkRule::luminosity : InkRule::any_paint;
  if (luminosity && space && backdrop) mask.backdrop = luminance(rgb_of(ctx_, space, backdrop, params));
  mask.depth = clips_.depth();
  mask.mask = true;
  if (art_) art_->soft_mask();
  layers_.push_back(std::move(mask));
  clips_.push_base();
}

void InkDevice::end_mask() {
  if (layers_.size() < 2) return;
  Layer const mask = std::move(layers_.back());
  layers_.pop_back();
  while (clips_.depth() > mask.depth) clips_.pop();
  InkLedger const& ledger = mask.ledger;
  if (mask.backdrop > kFaint) return clips_.push_fading(clips_.top().bounds);  // light wherever nothing is drawn
  if (ledger.hull() && ledger.solid() && !ledger.covers_anything() && ledger.solid()->contains(*ledger.hull(), InkLedger::kSame))
    return clips_.push_box(*ledger.hull());  // one clear window
  clips_.push_fading(ledger.hull());
}

bool InkDevice::in_mask() const {
  return std::any_of(layers_.begin() + 1, layers_.end(), [](Layer const& l) { return !l.tile; });
}

std::optional<SeenRect> InkDevice::sight() const {
  if (layers_.back().tile) return layers_.back().filled;
  return clips_.top().empty ? std::nullopt : intersection(clips_.top().bounds, seen_);
}

void InkDevice::begin_tile(fz_rect view, float xstep, float ystep, fz_matrix ctm) {
  Layer tile;
  tile.tile = true;
  tile.filled = sight();
  tile.rule = layer().rule;
  tile.view = view;
  tile.xstep = xstep;
  tile.ystep = ystep;
  tile.matrix = from_library(ctm);
  tile.depth = clips_.depth();
  ToSeen const& m = tile.matrix;
  bool const straight = (m.b == 0 && m.c == 0) || (m.a == 0 && m.d == 0);
  layers_.push_back(std::move(tile));
  clips_.push_base();
  Rect<MarkSpace> const box{view.x0, view.y0, view.x1, view.y1};
  ToSeen const& matrix = layers_.back().matrix;
  if (straight) return clips_.push_box(matrix.apply(box));
  Polygon region{{{matrix.apply(Point<MarkSpace>{box.x0, box.y0}), matrix.apply(Point<MarkSpace>{box.x1, box.y0}),
                   matrix.apply(Point<MarkSpace>{box.x1, box.y1}), matrix.apply(Point<MarkSpace>{box.x0, box.y1})}},
                 false};
  clips_.push_region(std::make_shared<Polygon const>(std::move(region)));
}

void InkDevice::end_tile() {
  if (layers_.size() < 2) return;
  Layer const tile = std::move(layers_.back());
  layers_.pop_back();
  while (clips_.depth() > tile.depth) clips_.pop();
  if (on_page()) ++marks_.count;
  if (!wanted_.ink || clips_.top().empty) return;
  if (reading_) note_beneath_text(clips_.top().bounds, false, std::nullopt, clips_.top().alpha);
  leave_tiles(tile);
}

// A tile whose cell is covered all over covers all that it is clipped to. Else its copies fall on a lattice: where that is upright and
// so is the clip, arithmetic tells the first and the last copy; a copy that the clip cuts leaves its side to the picture.
void InkDevice::leave_tiles(Layer const& tile) {
  Clip const& clip = clips_.top();
  auto const window = layer().limit ? intersection(clip.bounds, *layer().limit) : clip.bounds;
  if (layer().limit && tile.ledger.hull() && !layer().limit->contains(clip.bounds)) note_cut(clip.bounds, false);
  if (window) note_art_pattern(tile, *window);
  if (!window || settled(*window)) return;
  if (tile.ledger.covers_anything()) enter({*window, 0U}, false, {false, true, false});
  auto const& content = tile.ledger.hull();
  if (!content) return;
  ToSeen const& m = tile.matrix;
  bool const across = m.b == 0 && m.c == 0, turned = m.a == 0 && m.d == 0;
  double const step_x = std::fabs(across ? tile.xstep * m.a : tile.ystep * m.c);
  double const step_y = std::fabs(across ? tile.ystep * m.d : tile.xstep * m.b);
  auto const& solid = tile.ledger.solid();
  if ((across || turned) && solid && solid->width() >= step_x - InkLedger::kSame && solid->height() >= step_y - InkLedger::kSame) {
    if (on_page()) --marks_.count;  // counted already
    return leave({clip.bounds, true, false, {true, false, true}}, [&](std::optional<SeenRect> const& w) { return w; });
  }
  auto const x = lattice_span(content->x0, content->x1, step_x, window->x0, window->x1);
  auto const y = lattice_span(content->y0, content->y1, step_y, window->y0, window->y1);
  if (!(across || turned) || !(step_x > 0 && step_y > 0)) return enter({*window, 0U}, false, {true, false, false});
  if (!x || !y) return;
  SeenRect const box{x->from, y->from, x->to, y->to};
  if (!clip.upright) return enter({box, 0U}, false, {true, false, false});
  // Copies that are whole are sure; what the window leaves of a copy it cuts is not.
  SeenRect const inner{x->from_cut ? x->from + content->width() : x->from, y->from_cut ? y->from + content->height() : y->from,
                       x->to_cut ? x->to - content->width() : x->to, y->to_cut ? y->to - content->height() : y->to};
  unsigned sure = 0;
  for (unsigned side = 0; side < 4; ++side) sure |= tile.ledger.is_sure(side) ? 1U << side : 0U;
  if (inner.x0 < inner.x1 && inner.y0 < inner.y1) {
    unsigned const cut =
        (x->from_cut ? 1U << kLeft : 0U) | (y->from_cut ? 1U << kBottom : 0U) | (x->to_cut ? 1U << kRight : 0U) | (y->to_cut ? 1U << kTop : 0U);
    return enter({box, sure & ~cut}, false, {true, false, false});
  }
  enter({box, 0U}, false, {true, false, false});
}

}  // namespace layright
