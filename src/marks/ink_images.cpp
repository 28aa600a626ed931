// InkDevice: pictures and shadings.
#include <cmath>

#include "marks/exif_orientation.h"
#include "marks/ink_device.h"
#include "marks/leave_mark.h"
#include "marks/separation_tint.h"

namespace layright {
namespace {

constexpr std::size_t kMostImages = 10000;
constexpr double kEndless = 1e6;       // points
constexpr double kLeastWithParts = 6;  // points: a smaller picture has no parts that one would miss
Rect<MarkSpace> const kUnitSquare{0, 0, 1, 1};

/// Whether the unit square under `m` covers all of `box`.
bool covers_square(ToSeen const& m, SeenRect const& box) {
  auto const at = [&](double x, double y) { return m.apply(Point<MarkSpace>{x, y}); };
  return Polygon{{{at(0, 0), at(1, 0), at(1, 1), at(0, 1)}}, false}.covers(box);
}

/// 1 for what is no photograph, or says nothing.
int orientation_of(fz_context* ctx, fz_image* image) {
  fz_compressed_buffer const* const data = fz_compressed_image_buffer(ctx, image);
  if (data == nullptr || data->buffer == nullptr || data->params.type != FZ_IMAGE_JPEG) return 1;
  unsigned char* bytes = nullptr;
  std::size_t const size = fz_buffer_storage(ctx, data->buffer, &bytes);
  return exif_orientation({bytes, size});
}

/// A picture without height or width is painted by nobody, other than a fill.
bool is_flat(SeenRect const& bounds) { return !(bounds.width() > 0 && bounds.height() > 0); }

bool straight(ToSeen const& m) { return (m.b == 0 && m.c == 0) || (m.a == 0 && m.d == 0); }

}  // namespace

void InkDevice::note_image(fz_image* image, ToSeen const& ctm) {
  if (!wanted_.images || type3_depth_ > 0 || marks_.images.size() >= kMostImages) return;
  if (layers_.size() > 1 && layers_.back().rule == InkRule::luminosity) return;
  ImageUse use;
  use.where = ctm.apply(kUnitSquare);
  double const along = std::hypot(ctm.a, ctm.b), down = std::hypot(ctm.c, ctm.d);
  use.ppi_along = along > 0 ? 72 * image->w / along : 0;
  use.ppi_down = down > 0 ? 72 * image->h / down : 0;
  use.reversed = ctm.determinant() > 0;  // rows run down, so an upright picture has a negative one
  use.orientation = orientation_of(ctx_, image);
  marks_.images.push_back(use);
}

void InkDevice::note_picture(fz_image const* image, ToSeen const& ctm, float opacity) {
  auto const window = in_mask() || type3_depth_ > 0 ? std::nullopt : sight();
  auto const shown = window ? intersection(ctm.apply(kUnitSquare), *window) : std::nullopt;
  if (!shown || !(opacity > kFaint)) return;
  others_.picture(image->w, image->h, *shown);
  note_beneath_text(*shown, false, std::nullopt, opacity);
}

void InkDevice::fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params) {
  if (colourant_of(ctx_, image->colorspace) == Colourant::none) return;
  note_image(image, from_library(ctm));
  float const opacity = alpha * clips_.top().alpha;
  if (art_) note_art_picture(image, from_library(ctm), opacity, nullptr);
  if (!wanted_.ink || !(opacity > kFaint)) return;
  if (reading_) note_picture(image, from_library(ctm), opacity);
  if (image->mask == nullptr)
    hide_text(from_library(ctm).apply(kUnitSquare), opacity, [&](SeenRect const& text) { return covers_square(from_library(ctm), text); });
  if (image->mask == nullptr || clips_.top().image != image->mask) return leave_image(image, nullptr, ctm, opacity);
  Clip own = clips_.lift();
  leave_image(image, image->mask, ctm, opacity);
  clips_.put_back(std::move(own));
}

void InkDevice::note_unread(ImageInk const& ink) {
  if (ink.read) return;
  marks_.trouble = "a picture is too large or too damaged to be looked at; its whole rectangle is taken for ink";
  marks_.whole = false;
}

void InkDevice::leave_image(fz_image* image, fz_image* mask, fz_matrix ctm, float opacity) {
  ToSeen const matrix = from_library(ctm);
  Mark mark{matrix.apply(kUnitSquare), false, false, {true, true, true}};
  if (is_flat(mark.bounds)) return;
  bool const ground = straight(matrix) && may_be_ground(mark.bounds);
  bool const art = art_ && layer().rule == InkRule::on_paper;
  if (settled(mark.bounds) && !ground && !(art && mark.bounds.width() >= kLeastWithParts && mark.bounds.height() >= kLeastWithParts)) {
    if (clipped_to_page(mark.bounds)) images_.hear_whether_cut(image, mask);
    if (on_page()) ++marks_.count;
    return;
  }
  if (auto const* const changed = transfer(); changed && changed->darkens_white()) {
    mark.paint = {true, false, false};
    return leave(mark,
                 [&](std::optional<SeenRect> const& window) { return window ? intersection(mark.bounds, *window) : std::optional(mark.bounds); });
  }
  ImageInk const& ink = images_.find(image, mask, layer().rule, opacity, ctm);
  note_unread(ink);
  if (art) note_picture_art(ink, matrix);
  noisy_ = noisy_ || ink.noisy;
  // A mask lets what lies beneath shine through: what it leaves is laid over that.
  if (ground && mask) note_art_faint(mark.bounds, 1, ink.ground);
  else if (ground) note_art_faint(mark.bounds, ink.ground, 1);
  if (ink.covers) {
    mark.paint = {false, true, false};
    leave(mark, [&](std::optional<SeenRect> const& window) { return window ? intersection(mark.bounds, *window) : std::optional(mark.bounds); });
    if (on_page()) --marks_.count;  // one picture is one mark
  }
  mark.paint = {ink.any, false, layer().rule == InkRule::on_paper && !ink.covers};
  mark.solid = ink.all && straight(matrix);
  mark.gaps = ink.gaps;
  leave(mark, [&](std::optional<SeenRect> const& window) { return ink.extents(matrix, window); });
}

void InkDevice::fill_image_mask(fz_image* image, fz_matrix ctm, Color const& color) {
  ToSeen const matrix = from_library(ctm);
  note_image(image, matrix);
  Mark mark{matrix.apply(kUnitSquare), false, true, paint_for(color)};
  if (art_) note_art_picture(image, matrix, color.alpha * clips_.top().alpha, &color);
  if (!wanted_.ink || !(mark.paint.ink || mark.paint.covers) || is_flat(mark.bounds)) return;
  if (reading_) note_picture(image, matrix, color.alpha * clips_.top().alpha);
  if (settled(mark.bounds)) {
    if (clipped_to_page(mark.bounds)) images_.hear_whether_cut(image, nullptr);
    return leave(mark, [&](auto const&) { return std::optional(mark.bounds); });
  }
  ImageInk const& ink = images_.find(image, nullptr, InkRule::any_paint, 1, ctm);
  note_unread(ink);
  mark.gaps = ink.gaps;
  leave(mark, [&](std::optional<SeenRect> const& window) { return ink.extents(matrix, window); });
}

void InkDevice::clip_image_mask(fz_image* image, fz_matrix ctm) {
  if (!wanted_.ink) return clips_.push_group(1, false, false, 0);
  ToSeen const matrix = from_library(ctm);
  ImageInk const& ink = images_.find(image, nullptr, InkRule::any_paint, 1, ctm);
  note_unread(ink);
  if (ink.all && straight(matrix)) return clips_.push_box(matrix.apply(kUnitSquare), image);
  clips_.push_shape(ink.extents(matrix, std::nullopt), image);
}

void InkDevice::fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) {
  if (!wanted_.ink || clips_.top().empty || colourant_of(ctx_, shade->colorspace) == Colourant::none) return;
  float const opacity = alpha * clips_.top().alpha;
  Layer const& l = layer();
  auto area = clipped_to_page(from_library(fz_bound_shade(ctx_, shade, ctm)));
  if (!area || !(opacity > kFaint)) return;
  if (reading_) note_beneath_text(*area, false, std::nullopt, opacity);
  bool const everywhere = shade->use_background || (shade->type == FZ_LINEAR && shade->u.l_or_r.extend[0] && shade->u.l_or_r.extend[1]);
  if (everywhere) hide_text(*area, opacity, [](SeenRect const&) { return true; });
  if (l.limit && !l.limit->contains(*area)) {
    // One that goes on for ever is a ground, of which the edge cuts nothing.
    if (area->width() < kEndless && area->height() < kEndless) note_cut(*area, false);
    area = intersection(*area, *l.limit);
  }
  if (!area) return;
  if (art_)
    if (auto const shown = shown_for_art(*area)) art_->shading(*shown, shade, opacity);
  if (settled(*area)) return;
  if (area->width() > kEndless || area->height() > kEndless) return enter({*area, 0U}, false, {true, true, false});
  if (shade->use_background) {
    Rgb const plain = rgb_of(ctx_, shade->colorspace, shade->background, params), rgb = transfer() ? transfer()->of(plain) : plain;
    Paint const ground =
        paint_of(l.rule, rgb, opacity, transfer() ? tint_of(rgb) : strongest_tint(ctx_, shade->colorspace, shade->background, rgb).value_or(0));
    leave({*area, true, true, ground}, [&](std::optional<SeenRect> const& window) { return window; });
    if (ground.ink) return;
  }
  ShadeInk const seen = look_at_shade(ctx_, shade, ctm, opacity, params, l.rule, transfer(), *area, shade_pixels_);
  note_art_faint(*area, seen.faint, 1);
  if (seen.ink.covers) leave({*area, true, false, {false, true, false}}, [&](std::optional<SeenRect> const& window) { return window; });
  leave({*area, seen.ink.all, false, {seen.ink.any, false, seen.ink.all && opacity > kFull}},
        [&](std::optional<SeenRect> const& window) { return seen.ink.extents(seen.matrix(), window); });
}

}  // namespace layright
