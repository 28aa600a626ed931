// InkDevice: what it tells the book of the art.
#include <algorithm>
#include <cmath>

#include "marks/ink_device.h"

namespace layright {
namespace {

/// By how much a length shrinks at least under a matrix: its smaller singular value.
double least_scale(ToSeen const& m) {
  double const sum = m.a * m.a + m.b * m.b + m.c * m.c + m.d * m.d;
  double const difference = std::hypot(m.a * m.a + m.b * m.b - m.c * m.c - m.d * m.d, 2 * (m.a * m.c + m.b * m.d));
  return std::sqrt(std::max(0.0, (sum - difference) / 2));
}

// A Type 3 font has no em of its own; capital letters are about so high in others (from memory).
constexpr double kCapitalsOfEm = 0.7;

// A faint fill of another form than a rectangle is a ground only where it is large and simple.
constexpr double kLeastFaintShare = 0.02;  // of what is seen
constexpr std::size_t kMostFaintPoints = 2000;

}  // namespace

std::optional<Box> InkDevice::shown_for_art(Box const& reach) const {
  if (!art_ || type3_depth_ > 0 || clips_.top().empty) return std::nullopt;
  for (auto const& layer : layers_)
    if (layer.mask) return std::nullopt;
  auto const box = intersection(reach, clips_.top().bounds);
  return box ? intersection(*box, seen_) : std::nullopt;
}

ArtPaint InkDevice::art_paint(Color const& color) {
  paint_for(color);  // for its colour in RGB
  return {color.space, color.values, color.alpha * clips_.top().alpha, color.params.op != 0, last_rgb_, last_tint_.value_or(0)};
}

void InkDevice::note_art_fill(Box const& reach, bool rectangle, bool even_odd, ToSeen const& matrix, Color const& color) {
  auto const shown = shown_for_art(reach);
  if (!shown) return;
  Clip const& clip = clips_.top();
  ArtPaint const paint = art_paint(color);
  art_->fill(reach, *shown, rectangle && clip.upright, paint);
  float const laid = paint.tint * paint.alpha;
  bool const faint = laid > kTraceTint && laid <= kMostFaint && shown->area() > kLeastFaintShare * seen_.area();
  if (!faint || (rectangle && clip.upright) || !(clip.upright || clip.region)) return;
  Polygon const shape = fill_polygon(outline_, even_odd, matrix);
  if (shape.size() > kMostFaintPoints) return;
  art_->faint(*shown, paint, [&](Spot at) { return shape.contains(at) && (clip.upright || clip.region->contains(at)); });
}

/// Tints that turned out to be faint once they were looked at.
void InkDevice::note_art_faint(Box const& reach, float tint, float alpha) {
  if (!art_ || !(tint > 0) || !clips_.top().upright) return;
  if (auto const shown = shown_for_art(reach)) art_->faint(*shown, tint, alpha);
}

void InkDevice::note_art_stroke(Box const& reach, double radius, ToSeen const& matrix, Color const& color) {
  if (auto const shown = shown_for_art(reach)) art_->stroke(*shown, 2 * radius * least_scale(matrix), art_paint(color));
}

void InkDevice::note_art_text(fz_text const* text, ToSeen const& ctm, Color const& color) {
  for (auto const* span = text->head; span != nullptr; span = span->next) {
    if (span->font == nullptr) continue;
    ToSeen const turned = then(Matrix<MarkSpace, MarkSpace>{span->trm.a, span->trm.b, span->trm.c, span->trm.d, 0, 0}, ctm);
    bool const type3 = span->font->t3procs != nullptr;
    std::optional<Box> all;
    double tallest = 0;
    long glyphs = 0, missing = 0;
    for (int i = 0; i < span->len; ++i) {
      auto const& item = span->items[i];
      if (item.gid < 0) continue;
      auto const place = ctm.apply(Point<MarkSpace>{item.x, item.y});
      auto const reach = glyphs_.reach(span->font, item.gid, {turned.a, turned.b, turned.c, turned.d, place.x, place.y});
      auto const shown = reach ? shown_for_art(*reach) : std::nullopt;
      if (!shown) continue;
      ++glyphs;
      if (item.gid == 0 && !type3) ++missing;
      tallest = std::max(tallest, reach->height());
      all = united(all, shown);
    }
    if (!all) continue;
    double const em = type3 ? tallest / kCapitalsOfEm : std::sqrt(std::fabs(turned.determinant()));
    art_->text(*all, span->font, em, glyphs, missing, art_paint(color));
  }
}

void InkDevice::note_art_picture(fz_image* image, ToSeen const& matrix, float alpha, Color const* color) {
  auto const shown = shown_for_art(matrix.apply(Rect<MarkSpace>{0, 0, 1, 1}));
  if (!shown) return;
  if (color) art_->stencil_color(*shown, art_paint(*color));
  art_->picture(image, matrix, *shown, alpha);
}

}  // namespace layright
