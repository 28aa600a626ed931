#include "marks/ink_device.h"

#include <algorithm>
#include <cmath>

#include "marks/leave_mark.h"
#include "marks/separation_tint.h"
#include "mupdf/run_rules.h"

namespace layright {
namespace {

constexpr double kPointLike = 1e-3;  // points
constexpr double kBroadStroke = 4;   // points: finer strokes over text leave it legible

}  // namespace

InkDevice::InkDevice(fz_context* ctx, GlyphCache& glyphs, ImageCache& images, Page const& page, MarksWanted const& wanted, fz_cookie& cookie)
    : ctx_(ctx),
      glyphs_(glyphs),
      images_(images),
      wanted_(wanted),
      cookie_(cookie),
      seen_(page.seen.rect()),
      media_(page.to_seen.apply(page.boxes.media)),
      frames_(page.seen.rect()) {
  layers_.emplace_back();
  layers_.back().limit = seen_;
  layers_.back().rule = wanted.white_prints ? InkRule::any_paint : InkRule::on_paper;
  started_ = std::clock();
}

bool InkDevice::hears() {
  if (++ticks_ % 32 == 0 && static_cast<double>(std::clock() - started_) / CLOCKS_PER_SEC >= wanted_.seconds) {
    out_of_time_ = true;
    cookie_.abort = 1;
  }
  return !out_of_time_;
}

Paint InkDevice::paint_for(Color const& color) {
  Color const& c = type3_color_ ? *type3_color_ : color;
  int const n = c.space ? fz_colorspace_n(ctx_, c.space) : 0;
  bool const same = n > 0 && n <= 4 && c.space == last_space_ && std::equal(c.values, c.values + n, last_values_);
  if (!same) {
    last_rgb_ = rgb_of(ctx_, c.space, c.values, c.params);
    last_tint_ = strongest_tint(ctx_, c.space, c.values, last_rgb_);
    last_space_ = n <= 4 ? c.space : nullptr;
    if (n > 0 && n <= 4) std::copy(c.values, c.values + n, last_values_);
  }
  if (!last_tint_) return {};
  Rgb const rgb = laid(last_rgb_, c);
  return paint_of(layer().rule, rgb, c.alpha * clips_.top().alpha, transfer() ? tint_of(rgb) : *last_tint_);
}

void InkDevice::add_faint(Mark const& mark) {
  if (!mark.solid || layers_.size() != 1 || type3_depth_ > 0 || !clips_.top().upright) return;
  auto const shown = intersection(mark.bounds, intersection(clips_.top().bounds, seen_).value_or(mark.bounds));
  if (!shown) return;
  if (auto const ink = faint_.add(*shown, mark.paint.trace)) enter({*ink}, true, {true, false, false});
}

ColourTransfer const* InkDevice::transfer() const {
  auto const* const rules = RunRules::of(ctx_);
  return rules && layers_.back().rule != InkRule::luminosity ? rules->transfer() : nullptr;
}

Rgb InkDevice::laid(Rgb rgb, Color const& color) const {
  if (colourant_of(ctx_, color.space) == Colourant::all) rgb = {1 - color.values[0], 1 - color.values[0], 1 - color.values[0]};
  auto const* const changed = transfer();
  return changed ? changed->of(rgb) : rgb;
}

bool InkDevice::settled(SeenRect const& bounds) const {
  Layer const& l = layers_.back();
  return clips_.top().empty || ((!l.limit || l.limit->contains(bounds)) && l.ledger.settled(bounds));
}

void InkDevice::enter(Extent const& extent, bool solid, Paint paint) {
  InkLedger& ledger = layer().ledger;
  Clip const& clip = clips_.top();
  if (clip.blends && ledger.touched(extent.box)) {
    // What comes of it depends on what lies beneath.
    ledger.cover(extent.box, false);
    if (layers_.size() == 1) frames_.cover(extent.box, false);
    ledger.ink({extent.box, 0U});
    return;
  }
  if (paint.ink) ledger.ink(extent, solid);
  if (!paint.covers) return;
  ledger.cover(extent.box, solid, clip.darkens ? clip.since : 0);
  if (layers_.size() != 1 || clip.darkens) return;
  frames_.cover(extent.box, solid);
  if (solid) faint_.cover(extent.box);
}

bool InkDevice::keep_as_frame(ToSeen const& matrix, StrokeStyle const& style, Paint paint) {
  Clip const& clip = clips_.top();
  if (!wanted_.frames || !wanted_.ink || !on_page() || !paint.ink || clip.empty || !clip.upright || clip.blends) return false;
  if (!style.dashes.empty() && style.dashes.size() > 8) return false;
  bool const straight = (matrix.b == 0 && matrix.c == 0) || (matrix.a == 0 && matrix.d == 0);
  if (!straight || outline_.verbs().size() > 12) return false;
  auto rectangle = outline_.upright_rectangle();
  bool const closed = outline_.points().size() == 5 || (!outline_.verbs().empty() && outline_.verbs().back() == Outline::Verb::close);
  if (rectangle && !closed) rectangle.reset();
  std::vector<SeenRect> lines;
  if (!rectangle) {
    for (std::size_t i = 0; i < outline_.verbs().size(); ++i) {
      if (outline_.verbs()[i] != (i % 2 == 0 ? Outline::Verb::move : Outline::Verb::line)) return false;
      if (i % 2 == 0) continue;
      auto const p = matrix.apply(outline_.points()[i - 1]), q = matrix.apply(outline_.points()[i]);
      if (std::min(std::fabs(p.x - q.x), std::fabs(p.y - q.y)) > 0.01) return false;
      lines.push_back(SeenRect::from_corners(p.x, p.y, q.x, q.y));
    }
  }
  auto const whole = stroke_extents(outline_, style, matrix);
  if (!whole || !clip.bounds.contains(*whole)) return false;
  auto const seen = intersection(*whole, seen_);
  if (!seen) return false;
  std::optional<SeenRect> middle;
  if (rectangle) middle = matrix.apply(*rectangle);
  double const width_x = 2 * style.radius * std::hypot(matrix.a, matrix.c), width_y = 2 * style.radius * std::hypot(matrix.b, matrix.d);
  if (!frames_.take(middle, lines, width_x, width_y, *seen)) return false;
  ++marks_.count;
  layer().ledger.painted(*seen);
  if (!seen_.contains(*whole)) note_cut(*whole, false);
  return true;
}

void InkDevice::note_cut(SeenRect const& whole, bool flat_ground) {
  if (!intersection(whole, seen_)) {
    marks_.hidden_by_crop = marks_.hidden_by_crop || intersection(whole, media_);
    return;
  }
  if (!wanted_.cut) return;
  double beyond = 0;
  for (unsigned side = 0; side < 4; ++side) beyond = std::max(beyond, outward(whole, side) - outward(seen_, side));
  if (beyond <= 0) return;
  marks_.cut.push_back({whole, beyond, flat_ground});
  if (marks_.cut.size() <= 2 * kMostCuts) return;
  auto const farther = [](CutMark const& a, CutMark const& b) { return a.beyond > b.beyond; };
  std::nth_element(marks_.cut.begin(), marks_.cut.begin() + kMostCuts, marks_.cut.end(), farther);
  marks_.cut.resize(kMostCuts);
}

void InkDevice::note_beneath_text(SeenRect const& bounds, bool exact, std::optional<Rgb> color, float opacity) {
  Clip const& clip = clips_.top();
  if (!reading_ || in_mask() || type3_depth_ > 0 || clip.empty || !(opacity > kFaint)) return;
  auto const window = sight();
  auto const shown = window ? intersection(bounds, *window) : std::nullopt;
  if (!shown) return;
  bool const full = opacity > kFull && !clip.blends && !clip.darkens && layers_.size() == 1;
  grounds_.paint(*shown, exact && full && clip.upright, full ? color : std::nullopt);
  reading_->cover(*shown);
}

/// The path in hand.
void InkDevice::note_shape(SeenRect const& bounds, Paint paint, bool bar) {
  auto const window = in_mask() || type3_depth_ > 0 || !(paint.ink || paint.covers) ? std::nullopt : sight();
  auto const shown = window ? intersection(bounds, *window) : std::nullopt;
  if (!shown) return;
  if (bar) others_.bar();
  else others_.path(outline_, *shown);
}

void InkDevice::fill_path(fz_path const* path, bool even_odd, fz_matrix ctm, Color const& color) {
  if (!wanted_.ink) return;
  read_outline(ctx_, path, outline_);
  if (!outline_.control_box()) return;
  ToSeen const matrix = from_library(ctm);
  bool const straight = (matrix.b == 0 && matrix.c == 0) || (matrix.a == 0 && matrix.d == 0);
  auto const rectangle = straight ? outline_.upright_rectangle() : std::nullopt;
  SeenRect const bounds = matrix.apply(rectangle ? *rectangle : *outline_.control_box());
  if (rectangle && std::max(bounds.width(), bounds.height()) < kPointLike) return;  // nobody paints it
  Paint const paint = paint_for(color);
  if (rectangle && paint.ink && on_page() && std::min(bounds.width(), bounds.height()) > kPointLike) frames_.filled(bounds);
  std::optional<Polygon> shape;
  hide_text(bounds, color.alpha * clips_.top().alpha, [&](SeenRect const& text) {
    if (!rectangle && !shape) shape = fill_polygon(outline_, even_odd, matrix);
    return rectangle || shape->covers(text);
  });
  if (reading_) {
    note_shape(bounds, paint, rectangle.has_value());
    note_beneath_text(bounds, rectangle.has_value(), last_rgb_, color.alpha * clips_.top().alpha);
  }
  if (art_) note_art_fill(bounds, rectangle.has_value(), even_odd, matrix, color);
  leave({bounds, rectangle.has_value(), true, paint}, [&](std::optional<SeenRect> const& window) {
    return window ? fill_polygon(outline_, even_odd, matrix, FlatParts::hairline).extents_within(*window)
                  : fill_extents(outline_, matrix, FlatParts::hairline);
  });
}

void InkDevice::stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, Color const& color) {
  if (!wanted_.ink) return;
  read_outline(ctx_, path, outline_);
  ToSeen const matrix = from_library(ctm);
  StrokeStyle const style = stroke_style(*stroke);
  auto const bounds = stroke_bounds(outline_, style, matrix);
  if (!bounds) return;
  Paint const paint = paint_for(color);
  if (art_) note_art_stroke(*bounds, style.radius, matrix, color);
  if (reading_) note_shape(*bounds, paint, false);
  if (keep_as_frame(matrix, style, paint)) return;
  // Mitres may reach much farther than they do. Where that matters the stroke is measured whole, which costs less than cutting it.
  auto const whole = settled(*bounds) ? bounds : stroke_extents(outline_, style, matrix);
  if (!whole) return;
  if (reading_ && 2 * style.radius * std::sqrt(std::fabs(matrix.determinant())) >= kBroadStroke)
    note_beneath_text(*whole, false, last_rgb_, color.alpha * clips_.top().alpha);
  leave({*whole, false, true, paint},
        [&](std::optional<SeenRect> const& window) { return window ? stroke_extents(outline_, style, matrix, window) : whole; });
}

/// A clip without area leaves a line of one device pixel. Upright it is a box; else nobody can tell what shows, and a picture has to.
void InkDevice::push_flat_clip(ToSeen const& matrix) {
  auto const line = fill_extents(outline_, matrix, FlatParts::hairline);
  if (line && std::min(line->width(), line->height()) < kPointLike) return clips_.push_box(*line);
  clips_.push_shape(line);
}

void InkDevice::clip_path(fz_path const* path, bool even_odd, fz_matrix ctm) {
  if (!wanted_.ink) return clips_.push_group(1, false, false, 0);
  read_outline(ctx_, path, outline_);
  ToSeen const matrix = from_library(ctm);
  bool const straight = (matrix.b == 0 && matrix.c == 0) || (matrix.a == 0 && matrix.d == 0);
  auto const rectangle = straight ? outline_.upright_rectangle() : std::nullopt;
  if (rectangle) {
    SeenRect const box = matrix.apply(*rectangle);
    return std::max(box.width(), box.height()) < kPointLike ? clips_.push_shape(std::nullopt) : clips_.push_box(box);
  }
  if (outline_.empty()) return clips_.push_group(1, false, false, 0);  // W without a path clips nothing
  if (!fill_extents(outline_, matrix)) return push_flat_clip(matrix);
  if (reading_) note_shape(matrix.apply(*outline_.control_box()), {true, false, false}, false);  // something may show through it
  clips_.push_region(std::make_shared<Polygon const>(fill_polygon(outline_, even_odd, matrix)));
}

void InkDevice::clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm) {
  if (!wanted_.ink) return clips_.push_group(1, false, false, 0);
  read_outline(ctx_, path, outline_);
  clips_.push_shape(stroke_extents(outline_, stroke_style(*stroke), from_library(ctm)));
}

void InkDevice::pop_clip() { clips_.pop(); }

void InkDevice::add_box(SeenRect const& box, Rgb color) {
  leave({box, true, false, paint_of(layer().rule, color, 1)},
        [&](std::optional<SeenRect> const& window) { return window ? intersection(box, *window) : std::optional<SeenRect>(box); });
}

Marks InkDevice::finish() {
  auto const farther = [](CutMark const& a, CutMark const& b) { return a.beyond > b.beyond; };
  std::sort(marks_.cut.begin(), marks_.cut.end(), farther);
  if (marks_.cut.size() > kMostCuts) marks_.cut.resize(kMostCuts);
  marks_.frames = frames_.finish(layers_.front().ledger);
  marks_.out_of_time = out_of_time_;
  if (failed_) {
    marks_.whole = false;
    marks_.trouble = "memory ran out while the page was read";
  }
  marks_.ink = ledger().hull();
  return std::move(marks_);
}

}  // namespace layright
