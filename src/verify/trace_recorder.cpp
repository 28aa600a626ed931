#include "verify/trace_recorder.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace layright {
namespace {

// Each kind of call begins its digest with a number of its own.
enum class Call : int {
  fill_path = 1,
  stroke_path,
  clip_path,
  clip_stroke_path,
  fill_text,
  stroke_text,
  clip_text,
  clip_stroke_text,
  ignore_text,
  fill_shade,
  fill_image,
  fill_image_mask,
  clip_image_mask,
  mask,
  group,
  tile,
};

constexpr fz_rect kUnit{0, 0, 1, 1};
constexpr fz_rect kNowhere{0, 0, 0, 0};

/// A path without a point: no reader paints it. Where one reads past the end of content that is cut short, it meets such.
bool is_nowhere(fz_rect const& r) { return r.x0 == 0 && r.y0 == 0 && r.x1 == 0 && r.y1 == 0; }

/// Whether what lies under it is squeezed to a line, or to less than anybody sees.
bool is_singular(fz_matrix const& m) {
  double const a = m.a, b = m.b, c = m.c, d = m.d, area = std::fabs(a * d - b * c);
  return !(area > 1e-9 * (a * a + b * b + c * c + d * d)) || area < 1e-6;
}

/// Farther from any page than floats can tell a point from the next.
bool is_far(fz_rect const& r) {
  constexpr float kFar = 1e6F;
  return r.x0 > kFar || r.y0 > kFar || r.x1 < -kFar || r.y1 < -kFar;
}

/// As seen from a cell.
fz_matrix within(fz_matrix const& m, fz_matrix const& cell) {
  struct FromSpace {};
  struct OneCellSpace {};
  Matrix<FromSpace, SeenSpace> const there{m.a, m.b, m.c, m.d, m.e, m.f};
  auto const back = Matrix<OneCellSpace, SeenSpace>{cell.a, cell.b, cell.c, cell.d, cell.e, cell.f}.inverted();
  return back ? to_library(then(there, *back)) : m;
}

Hash64 begun(Call call) {
  Hash64 digest;
  digest.add(call);
  return digest;
}

}  // namespace

void TraceRecorder::begin_page(fz_context* ctx, PageFrame const& frame) {
  digests_ = &own_digests_.emplace(ctx);
  depth_ = 0;
  passed_depth_ = -1;
  pass_group_ = frame.blends;
  cells_.clear();
  probing_ = flat_clip_ = false;
  probed_.reset();
  last_cell_ = 0;
  tape_.begin_page(frame);
}

void TraceRecorder::send(MarkEntry::Kind kind, Hash64 const& digest, fz_matrix m, fz_rect b, bool rectangle, bool plain) {
  last_cell_ = 0;
  if (!reported()) return;
  MarkEntry entry;
  entry.kind = kind;
  entry.digest = digest.value();
  if (!cells_.empty()) {
    auto const& c = cells_.back().matrix;
    entry.cell = {c.a, c.b, c.c, c.d, c.e, c.f};
    entry.in_cell = true;
    m = within(m, c);
  }
  entry.matrix = {m.a, m.b, m.c, m.d, m.e, m.f};
  entry.step = step_;
  entry.bounds = {b.x0, b.y0, b.x1, b.y1};
  entry.upright_rectangle = rectangle;
  entry.plain_group = plain;
  entry.knockout = knockout_;
  if (kind != MarkEntry::Kind::mark && kind != MarkEntry::Kind::close) ++depth_;
  tape_.mark(entry);
}

/// Where the library breaks off it leaves open what is open. The laid page has a clip more, so both close everything.
void TraceRecorder::end_section() {
  passed_depth_ = -1;
  cells_.clear();
  probing_ = false;
  while (depth_ > 0) close(0);
  MarkEntry entry;
  entry.kind = MarkEntry::Kind::section;
  pass_group_ = false;
  tape_.mark(entry);
}

void TraceRecorder::close(int what) {
  if (probing_) return;
  last_cell_ = 0;
  if (!reported()) return;
  if (depth_ == passed_depth_) {
    passed_depth_ = -1;
    return;
  }
  --depth_;
  Hash64 digest;
  digest.add(what);
  send(MarkEntry::Kind::close, digest, fz_identity, kNowhere);
}

void TraceRecorder::fill_path(fz_path const* path, bool even_odd, fz_matrix ctm, MarkColor const& color) {
  auto digest = begun(Call::fill_path).add(even_odd);
  fz_rect const bounds = digests_->path(digest, path);
  if (is_nowhere(bounds)) return;
  digests_->color(digest, color);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TraceRecorder::stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, MarkColor const& color) {
  auto digest = begun(Call::stroke_path);
  fz_rect const bounds = digests_->path(digest, path);
  if (is_nowhere(bounds)) return;
  digests_->stroke(digest, *stroke);
  digests_->color(digest, color);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TraceRecorder::clip_path(fz_path const* path, bool even_odd, fz_matrix ctm) {
  if (probing_) {
    probed_ = ctm;
    return;
  }
  auto digest = begun(Call::clip_path);
  bool rectangle = false;
  fz_rect const bounds = digests_->path(digest, path, &rectangle);
  flat_clip_ = !(bounds.x1 > bounds.x0) || !(bounds.y1 > bounds.y0) || is_singular(ctm) || is_far(fz_transform_rect(bounds, ctm));
  if (!rectangle) digest.add(even_odd);  // in the box of a form it is whatever came before
  send(MarkEntry::Kind::clip, digest, ctm, bounds, rectangle);
}
void TraceRecorder::clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm) {
  flat_clip_ = false;
  auto digest = begun(Call::clip_stroke_path);
  fz_rect const bounds = digests_->path(digest, path);
  digests_->stroke(digest, *stroke);
  send(MarkEntry::Kind::clip, digest, ctm, bounds);
}
void TraceRecorder::fill_text(fz_text const* text, fz_matrix ctm, MarkColor const& color) {
  auto digest = begun(Call::fill_text);
  fz_rect const bounds = digests_->text(digest, text);
  digests_->color(digest, color);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TraceRecorder::stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, MarkColor const& color) {
  auto digest = begun(Call::stroke_text);
  fz_rect const bounds = digests_->text(digest, text);
  digests_->stroke(digest, *stroke);
  digests_->color(digest, color);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TraceRecorder::clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) {
  flat_clip_ = false;
  auto digest = begun(stroke ? Call::clip_stroke_text : Call::clip_text);
  fz_rect const bounds = digests_->text(digest, text);
  if (stroke) digests_->stroke(digest, *stroke);
  send(MarkEntry::Kind::clip, digest, ctm, bounds);
}
void TraceRecorder::ignore_text(fz_text const* text, fz_matrix ctm) {
  auto digest = begun(Call::ignore_text);
  fz_rect const bounds = digests_->text(digest, text);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TraceRecorder::fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) {
  auto digest = begun(Call::fill_shade);
  fz_rect const bounds = digests_->shade(digest, shade);
  digest.add(alpha).add(params.ri).add(params.op).add(params.opm);
  send(MarkEntry::Kind::mark, digest, ctm, bounds);
}
void TraceRecorder::fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params params) {
  auto digest = begun(Call::fill_image);
  digests_->image(digest, image);
  digest.add(alpha).add(params.ri).add(params.op).add(params.opm);
  send(MarkEntry::Kind::mark, digest, ctm, kUnit);
}
void TraceRecorder::fill_image_mask(fz_image* image, fz_matrix ctm, MarkColor const& color) {
  auto digest = begun(Call::fill_image_mask);
  digests_->image(digest, image);
  digests_->color(digest, color);
  send(MarkEntry::Kind::mark, digest, ctm, kUnit);
}
void TraceRecorder::clip_image_mask(fz_image* image, fz_matrix ctm) {
  flat_clip_ = false;
  auto digest = begun(Call::clip_image_mask);
  digests_->image(digest, image);
  send(MarkEntry::Kind::clip, digest, ctm, kUnit);
}
void TraceRecorder::begin_mask(bool luminosity, fz_colorspace* space, float const* backdrop, fz_color_params params) {
  auto digest = begun(Call::mask).add(luminosity);
  if (luminosity && backdrop) digests_->color(digest, {space, backdrop, 1, params});
  send(MarkEntry::Kind::mask, digest, fz_identity, kNowhere);
  if (reported()) ++depth_;  // its content ends, and then what it masks
}
void TraceRecorder::begin_group(MarkGroup const& group) {
  bool const plain = group.isolated && group.blend_mode == FZ_BLEND_NORMAL && group.alpha == 1;
  if (pass_group_ && depth_ == 0 && passed_depth_ < 0) {
    pass_group_ = false;
    passed_depth_ = 0;
    return;
  }
  auto digest = begun(Call::group).add(group.isolated).add(group.knockout).add(group.blend_mode).add(group.alpha);
  digests_->space(digest, group.space);
  knockout_ = group.knockout;
  send(MarkEntry::Kind::group, digest, fz_identity, kNowhere, false, plain);
  knockout_ = false;
}
void TraceRecorder::begin_cell(PatternCell const& cell) {
  probing_ = false;
  auto const matrix = std::exchange(probed_, std::nullopt);
  OpenCell open{matrix.value_or(fz_identity), false, matrix.has_value()};
  auto const digest = begun(Call::tile).add(cell.box.x0).add(cell.box.y0).add(cell.box.x1).add(cell.box.y1).add(cell.xstep).add(cell.ystep);
  bool const again = last_cell_ == digest.value();
  if (matrix && reported() && !again && !flat_clip_ && !is_singular(*matrix)) {
    step_ = {cell.xstep, cell.ystep};
    send(MarkEntry::Kind::tile, digest, *matrix, cell.box);
    step_ = {0, 0};
    open.reported = true;
  }
  open.digest = digest.value();
  cells_.push_back(open);
}

void TraceRecorder::end_cell() {
  if (cells_.empty()) return;
  auto const cell = cells_.back();
  cells_.pop_back();
  if (cell.reported) {
    --depth_;
    Hash64 digest;
    digest.add(kEndTile);
    send(MarkEntry::Kind::close, digest, fz_identity, kNowhere);
  }
  if (cell.counted) last_cell_ = cell.digest;
}

}  // namespace layright
