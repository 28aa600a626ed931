// InkDevice: text.
#include <cmath>
#include <utility>

#include "marks/ink_device.h"
#include "marks/leave_mark.h"
#include "reading/letter_shape.h"

namespace layright {
namespace {

// Our own: text that nobody reads says nothing. A tenth of full strength is faint, and below a point nothing is legible.
constexpr float kTooFaint = 0.06F;
constexpr double kTooSmall = 1;      // points to the em
constexpr double kTooFlat = 0.6;     // points, of a glyph's longer side
constexpr double kLeastShown = 0.4;  // of a glyph's extents
constexpr int kMostType3Depth = 4;   // a glyph of a Type 3 font may draw text of a Type 3 font, and so on; more is a trap

Matrix<MarkSpace, MarkSpace> glyph_to_user(fz_text_span const& span, fz_text_item const& item) {
  return {span.trm.a, span.trm.b, span.trm.c, span.trm.d, item.x, item.y};
}

}  // namespace

/// Calls each(span, item, matrix from glyph space to seen space) for every glyph that is one.
template <class Each>
void InkDevice::each_glyph(fz_text const* text, Each&& each) {
  for (auto const* span = text->head; span != nullptr; span = span->next) {
    if (span->font == nullptr) continue;
    for (int i = 0; i < span->len; ++i)
      if (span->items[i].gid >= 0) each(*span, span->items[i]);
  }
}

InkDevice::TextPaint InkDevice::text_paint(Color const& color) {
  paint_for(color);
  return {true, last_rgb_, color.alpha * clips_.top().alpha};
}

void InkDevice::count_glyphs(fz_text const* text, ToSeen const& ctm, TextPaint const& paint) {
  if (type3_depth_ > 0 || in_mask()) return;
  if (reading_) report_glyphs(text, ctm, paint);
  for (auto const* span = text->head; span != nullptr; span = span->next) {
    if (span->font == nullptr || span->len == 0) continue;
    auto const to_user = glyph_to_user(*span, span->items[0]);
    // A Type 3 font's own matrix is left out: its glyph procedures are drawn to suit it, so it tells nothing of how they look.
    double const turn = to_user.determinant() * ctm.determinant();
    for (int i = 0; i < span->len; ++i) {
      int const glyph = span->items[i].gid;
      if (glyph < 0) continue;
      // Type 3 glyphs that cannot be cached are drawn at once, and then come again as invisible text so that they can be searched.
      bool const shown = paint.visible || !fz_glyph_cacheable(ctx_, span->font, glyph);
      if (!shown) ++marks_.glyphs.invisible;
      else if (turn < 0) ++marks_.glyphs.reversed;
      else ++marks_.glyphs.right;
    }
  }
}

std::optional<SeenRect> InkDevice::clipped_to_page(SeenRect const& box) const {
  return clips_.top().empty ? std::nullopt : intersection(box, clips_.top().bounds);
}

/// A text is one mark: what runs off the page is reported once.
void InkDevice::note_cut_text(std::optional<SeenRect> const& bounds, Paint paint) {
  if (!bounds || !paint.ink || layers_.size() != 1 || seen_.contains(*bounds)) return;
  if (auto const whole = clipped_to_page(*bounds); whole && !seen_.contains(*whole)) note_cut(*whole, false);
}

void InkDevice::report_glyphs(fz_text const* text, ToSeen const& ctm, TextPaint const& paint) {
  auto const window = sight();
  Clip const& clip = clips_.top();
  if (!window || clip.empty || (paint.visible && !(paint.opacity > kTooFaint))) return;
  bool const simple = paint.color && layers_.size() == 1 && clip.upright && !clip.blends && !clip.darkens;
  each_glyph(text, [&](fz_text_span const& span, fz_text_item const& item) {
    ToSeen const m = then(glyph_to_user(span, item), ctm);
    auto const bounds = glyphs_.bounds(span.font, item.gid, m);
    if (!bounds || !intersection(*bounds, clip.bounds)) return;
    auto where = intersection(*bounds, *window);
    if (!where && layer().tile) where = window;  // only its copies are seen
    if (!where) return;
    bool const type3 = span.font->t3procs != nullptr;
    bool const small =
        std::max(bounds->width(), bounds->height()) < kTooFlat || (!type3 && std::min(std::hypot(m.a, m.b), std::hypot(m.c, m.d)) < kTooSmall);
    bool const cut_off = !layer().tile && where->area() < kLeastShown * bounds->area();
    if (paint.visible && (small || cut_off)) return;
    GlyphSeen glyph;
    glyph.unicode = item.ucs;
    glyph.visible = paint.visible || !fz_glyph_cacheable(ctx_, span.font, item.gid);
    glyph.to_seen = {m.a, m.b, m.c, m.d, m.e, m.f};
    glyph.where = *where;
    glyph.area = bounds->area();
    glyph.font = span.font;
    glyph.type3 = type3;
    bool const own_colors = type3 && span.font->t3flags != nullptr && item.gid < 256 && (span.font->t3flags[item.gid] & FZ_DEVFLAG_COLOR) != 0;
    if (wanted_.ink)
      glyph.sure = simple && !own_colors && grounds_.stands_out(*where, *paint.color, paint.opacity, layer().rule == InkRule::on_paper);
    if (reading_->wants_picture(glyph))
      if (auto const picture = glyphs_.picture(span.font, item.gid)) reading_->add_picture(glyph, *picture);
    reading_->add(glyph);
  });
}

void InkDevice::note_damaged(fz_font* font, int glyph, SeenRect const& bounds) {
  if (!glyphs_.damaged(font, glyph) || !clipped_to_page(bounds)) return;
  marks_.whole = false;
  marks_.trouble = "letters of a font that comes with the file are not wholly there, and programs show others, or none";
}

void InkDevice::fill_text(fz_text const* text, fz_matrix ctm, Color const& color) {
  put_off_text_clip();
  ToSeen const matrix = from_library(ctm);
  count_glyphs(text, matrix, text_paint(color));
  if (!wanted_.ink) return;
  Paint const paint = paint_for(color);
  if (art_) {
    note_art_text(text, matrix, color);
    filled_text_ = text;
    filled_rgb_ = last_rgb_;
  }
  std::optional<SeenRect> all;
  in_text_ = type3_depth_ == 0;
  each_glyph(text, [&](fz_text_span const& span, fz_text_item const& item) {
    ToSeen const full = then(glyph_to_user(span, item), matrix);
    auto const bounds = glyphs_.bounds(span.font, item.gid, full);
    if (!bounds) return;
    all = all ? united(*all, *bounds) : *bounds;
    if (paint.ink) note_damaged(span.font, item.gid, *bounds);
    if (span.font->t3procs != nullptr) {
      if (!settled(*bounds)) type3_glyph(span.font, item.gid, to_library(full), color);
      return;
    }
    leave({*bounds, false, true, paint}, [&](std::optional<SeenRect> const& window) { return glyphs_.extents(span.font, item.gid, full, window); });
  });
  if (type3_depth_ > 0) return;
  in_text_ = false;
  note_cut_text(all, paint);
}

void InkDevice::stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, Color const& color) {
  put_off_text_clip();
  ToSeen const matrix = from_library(ctm);
  count_glyphs(text, matrix, text_paint(color));
  if (!wanted_.ink) return;
  Paint const paint = paint_for(color);
  StrokeStyle const style = stroke_style(*stroke);
  if (art_) {
    note_art_text(text, matrix, color);
    note_art_outline(text, style.radius, matrix, color);
  }
  each_glyph(text, [&](fz_text_span const& span, fz_text_item const& item) {
    auto const to_user = glyph_to_user(span, item);
    auto bounds = glyphs_.bounds(span.font, item.gid, then(to_user, matrix));
    if (!bounds) return;
    if (paint.ink) note_damaged(span.font, item.gid, *bounds);
    if (span.font->t3procs != nullptr) {
      type3_glyph(span.font, item.gid, to_library(then(to_user, matrix)), color);
      return;
    }
    double const grown = style.radius * std::max(1.4143, style.miter_limit);
    SeenRect const pen = matrix.apply(Rect<MarkSpace>{-grown, -grown, grown, grown});
    *bounds = bounds->grown(std::max(pen.width(), pen.height()) / 2);
    leave({*bounds, false, true, paint}, [&](std::optional<SeenRect> const& window) {
      return glyphs_.stroke_extents(span.font, item.gid, to_library(to_user), style, matrix, window);
    });
  });
}

void InkDevice::ignore_text(fz_text const* text, fz_matrix ctm) { count_glyphs(text, from_library(ctm), {false, {}, 1}); }

std::optional<SeenRect> InkDevice::text_extents(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) {
  ToSeen const matrix = from_library(ctm);
  std::optional<SeenRect> found;
  each_glyph(text, [&](fz_text_span const& span, fz_text_item const& item) {
    auto const to_user = glyph_to_user(span, item);
    if (auto const bounds = glyphs_.bounds(span.font, item.gid, then(to_user, matrix))) note_damaged(span.font, item.gid, *bounds);
    found = united(found, stroke ? glyphs_.stroke_extents(span.font, item.gid, to_library(to_user), stroke_style(*stroke), matrix, std::nullopt)
                                 : glyphs_.extents(span.font, item.gid, then(to_user, matrix), std::nullopt));
  });
  return found;
}

void InkDevice::clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) {
  count_glyphs(text, from_library(ctm), {});  // something may show through it
  if (!wanted_.ink) return clips_.push_group(1, false, false, 0);
  auto const extents = text_extents(text, stroke, ctm);
  if (!in_text_object_ || type3_depth_ > 0) return clips_.push_shape(extents);
  put_off_text_clip();
  clips_.push_shape(extents);
  last_text_ = extents;
  last_text_depth_ = clips_.depth();
}

void InkDevice::put_off_text_clip() {
  if (last_text_depth_ == 0 || clips_.depth() > last_text_depth_) return;
  if (std::exchange(last_text_depth_, 0) != clips_.depth()) return;
  text_clip_ = united(text_clip_, last_text_);
  clips_.pop();
  clips_.push_group(1, false, false, 0);
  text_clip_depth_ = clips_.depth();
}

void InkDevice::text_object(bool begins) {
  if (type3_depth_ > 0) return;
  put_off_text_clip();
  in_text_object_ = begins;
  if (std::exchange(text_clip_depth_, 0) == clips_.depth() && !begins) {
    clips_.pop();  // in the place of the last of them
    clips_.push_shape(text_clip_);
  }
  text_clip_.reset();
}

void InkDevice::type3_glyph(fz_font* font, int glyph, fz_matrix matrix, Color const& color) {
  if (type3_depth_ >= kMostType3Depth || glyph > 255) return;
  auto const outer = type3_color_;
  bool const own_colors = font->t3flags != nullptr && (font->t3flags[glyph] & FZ_DEVFLAG_COLOR) != 0;
  if (own_colors) type3_color_.reset();
  else if (!outer) type3_color_ = color;
  auto const depth = clips_.depth();
  auto const layers = layers_.size();
  ++type3_depth_;
  if (own_colors) clips_.push_group(color.alpha, false, false, 0);
  if (!run_type3_glyph(ctx_, font, glyph, matrix, device_)) failed_ = true;
  // A glyph that breaks off leaves its clips and tiles open.
  while (clips_.depth() > depth) clips_.pop();
  while (layers_.size() > layers) layers_.pop_back();
  --type3_depth_;
  type3_color_ = outer;
}

}  // namespace layright
