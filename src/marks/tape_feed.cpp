#include "marks/tape_feed.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

// Each kind of call begins its digest with a number of its own.
enum class Call : int {
  fill_path = 1, stroke_path, clip_path, clip_stroke_path, fill_text, stroke_text, clip_text, clip_stroke_text, ignore_text, fill_shade,
  fill_image, fill_image_mask, clip_image_mask, mask, group, tile,
};

constexpr fz_rect kUnit{0, 0, 1, 1};
constexpr fz_rect kNowhere{0, 0, 0, 0};

/// A path without a point: no reader paints it. Where one reads past the end of content that is cut short, it meets such.
bool is_nowhere(fz_rect const& r) { return r.x0 == 0 && r.y0 == 0 && r.x1 == 0 && r.y1 == 0; }

Digest begun(Call call) {
  Digest digest;
  digest.add(call);
  return digest;
}

}  // namespace

void TapeFeed::send(MarkEntry::Kind kind, Digest const& digest, fz_matrix m, fz_rect b, bool rectangle, bool plain) {
  MarkEntry entry;
  entry.kind = kind;
  entry.digest = digest.value();
  for (auto const& tile : tiles_) {
    m.e += tile.x;
    m.f += tile.y;
  }
  entry.matrix = {m.a, m.b, m.c, m.d, m.e, m.f};
  entry.bounds = {b.x0, b.y0, b.x1, b.y1};
  entry.upright_rectangle = rectangle;
  entry.plain_group = plain;
  entry.knockout = knockout_;
  if (kind != MarkEntry::Kind::mark && kind != MarkEntry::Kind::close) ++depth_;
  tape_.mark(entry);
}

/// Where the library breaks off it leaves open what is open. The laid page has a clip more, so both close everything.
void TapeFeed::end_section() {
  passed_depth_ = -1;
  tiles_.clear();
  while (depth_ > 0) close(0);
  MarkEntry entry;
  entry.kind = MarkEntry::Kind::section;
  pass_group_ = false;
  tape_.mark(entry);
}

void TapeFeed::close(int what) {
  if (depth_ == passed_depth_) {
    passed_depth_ = -1;
    return;
  }
  if (!tiles_.empty() && what == kEndTile && tiles_.back().depth == depth_) return tiles_.pop_back();
  --depth_;
  Digest digest;
  digest.add(what);
  send(MarkEntry::Kind::close, digest, fz_identity, kNowhere);
}

void TapeFeed::fill_path(fz_path const* path, int even_odd, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha,
                         fz_color_params params) {
  auto digest = begun(Call::fill_path).add(even_odd);
  fz_rect const bounds = digests_.path(digest, path);
  if (is_nowhere(bounds)) return;
  digests_.color(digest, cs, color, alpha, params);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TapeFeed::stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, fz_colorspace* cs, float const* color,
                           float alpha, fz_color_params params) {
  auto digest = begun(Call::stroke_path);
  fz_rect const bounds = digests_.path(digest, path);
  if (is_nowhere(bounds)) return;
  digests_.stroke(digest, *stroke);
  digests_.color(digest, cs, color, alpha, params);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TapeFeed::clip_path(fz_path const* path, int even_odd, fz_matrix ctm) {
  auto digest = begun(Call::clip_path);
  bool rectangle = false;
  fz_rect const bounds = digests_.path(digest, path, &rectangle);
  if (!rectangle) digest.add(even_odd);  // in the box of a form it is whatever came before
  send(MarkEntry::Kind::clip, digest, ctm, bounds, rectangle);
}
void TapeFeed::clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm) {
  auto digest = begun(Call::clip_stroke_path);
  fz_rect const bounds = digests_.path(digest, path);
  digests_.stroke(digest, *stroke);
  send(MarkEntry::Kind::clip, digest, ctm, bounds);
}
void TapeFeed::fill_text(fz_text const* text, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha, fz_color_params params) {
  auto digest = begun(Call::fill_text);
  fz_rect const bounds = digests_.text(digest, text);
  digests_.color(digest, cs, color, alpha, params);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TapeFeed::stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, fz_colorspace* cs, float const* color,
                           float alpha, fz_color_params params) {
  auto digest = begun(Call::stroke_text);
  fz_rect const bounds = digests_.text(digest, text);
  digests_.stroke(digest, *stroke);
  digests_.color(digest, cs, color, alpha, params);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TapeFeed::clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) {
  auto digest = begun(stroke ? Call::clip_stroke_text : Call::clip_text);
  fz_rect const bounds = digests_.text(digest, text);
  if (stroke) digests_.stroke(digest, *stroke);
  send(MarkEntry::Kind::clip, digest, ctm, bounds);
}
void TapeFeed::ignore_text(fz_text const* text, fz_matrix ctm) {
  auto digest = begun(Call::ignore_text);
  fz_rect const bounds = digests_.text(digest, text);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TapeFeed::fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) {
  auto digest = begun(Call::fill_shade);
  fz_rect const bounds = digests_.shade(digest, shade);
  digest.add(alpha).add(params.ri).add(params.op).add(params.opm);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TapeFeed::fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params params) {
  auto digest = begun(Call::fill_image);
  digests_.image(digest, image);
  digest.add(alpha).add(params.ri).add(params.op).add(params.opm);
  send(MarkEntry::Kind::mark, digest, ctm, kUnit);
}
void TapeFeed::fill_image_mask(fz_image* image, fz_matrix ctm, fz_colorspace* cs, float const* color, float alpha, fz_color_params params) {
  auto digest = begun(Call::fill_image_mask);
  digests_.image(digest, image);
  digests_.color(digest, cs, color, alpha, params);
  send(MarkEntry::Kind::mark, digest, ctm, kUnit);
}
void TapeFeed::clip_image_mask(fz_image* image, fz_matrix ctm) {
  auto digest = begun(Call::clip_image_mask);
  digests_.image(digest, image);
  send(MarkEntry::Kind::clip, digest, ctm, kUnit);
}
void TapeFeed::begin_mask(int luminosity, fz_colorspace* cs, float const* backdrop, fz_color_params params) {
  auto digest = begun(Call::mask).add(luminosity);
  if (luminosity && backdrop) digests_.color(digest, cs, backdrop, 1, params);
  send(MarkEntry::Kind::mask, digest, fz_identity, kNowhere);
  ++depth_;  // its content ends, and then what it masks
}
void TapeFeed::begin_group(fz_colorspace* cs, int isolated, int knockout, int blend_mode, float alpha) {
  bool const plain = isolated != 0 && blend_mode == FZ_BLEND_NORMAL && alpha == 1;
  if (pass_group_ && depth_ == 0 && passed_depth_ < 0) {
    pass_group_ = false;
    passed_depth_ = 0;
    return;
  }
  auto digest = begun(Call::group).add(isolated).add(knockout).add(blend_mode).add(alpha);
  digests_.space(digest, cs);
  knockout_ = knockout != 0;
  send(MarkEntry::Kind::group, digest, fz_identity, kNowhere, false, plain);
  knockout_ = false;
}
// The library makes a tiling of what repeats at all, else it just draws the one copy; where the area is one cell wide, rounding tips the
// scales. So a tiling of one copy is told as that copy.
void TapeFeed::begin_tile(fz_rect area, fz_rect view, float xstep, float ystep, fz_matrix ctm) {
  constexpr float kTips = 0.002F;
  float const wide = std::fabs((area.x1 - area.x0) / xstep), high = std::fabs((area.y1 - area.y0) / ystep);
  if (wide <= 1 + kTips && high <= 1 + kTips) {
    auto const first = [](float from, float to, float origin, float step) {
      return std::floor(std::min((from - origin) / step, (to - origin) / step) + kTips);
    };
    float const i = first(area.x0, area.x1, view.x0, xstep), j = first(area.y0, area.y1, view.y0, ystep);
    tiles_.push_back({depth_, i * xstep * ctm.a + j * ystep * ctm.c, i * xstep * ctm.b + j * ystep * ctm.d});
    return;
  }
  auto digest = begun(Call::tile).add(view.x0).add(view.y0).add(view.x1).add(view.y1).add(xstep).add(ystep);
  send(MarkEntry::Kind::tile, digest, ctm, view);
}

}  // namespace layright
