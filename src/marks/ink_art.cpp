// InkDevice: what it tells the book of the art.
#include <algorithm>
#include <cmath>
#include <utility>

#include "marks/ink_device.h"
#include "marks/outline.h"

namespace layright {
namespace {

/// By how much a length shrinks at least under a matrix: its smaller singular value.
double least_scale(ToSeen const& m) {
  double const sum = m.a * m.a + m.b * m.b + m.c * m.c + m.d * m.d;
  double const difference = std::hypot(m.a * m.a + m.b * m.b - m.c * m.c - m.d * m.d, 2 * (m.a * m.c + m.b * m.d));
  return std::sqrt(std::max(0.0, (sum - difference) / 2));
}

/// How wide a line of width 1 along `dx`, `dy` is drawn.
double width_across(ToSeen const& m, double dx, double dy) {
  double const along = std::hypot(dx, dy), drawn = std::hypot(m.a * dx + m.c * dy, m.b * dx + m.d * dy);
  return along > 0 && drawn > 0 ? std::fabs(m.determinant()) * along / drawn : 0;
}

/// Of the whole path: at its narrowest. 0 where it has no length.
double narrowest(Outline const& outline, ToSeen const& m) {
  double const least = least_scale(m);
  if (least * least >= std::fabs(m.determinant()) * 0.999) return least;  // the same in all directions
  std::optional<double> found;
  Point<MarkSpace> from{}, start{};
  auto const along = [&](Point<MarkSpace> const& to) {
    if (double const width = width_across(m, to.x - from.x, to.y - from.y); width > 0 && (!found || width < *found)) found = width;
    from = to;
  };
  std::size_t at = 0;
  auto const& points = outline.points();
  for (auto const verb : outline.verbs()) {
    switch (verb) {
      case Outline::Verb::move: from = start = points[at++]; break;
      case Outline::Verb::line: along(points[at++]); break;
      case Outline::Verb::close: along(start); break;
      case Outline::Verb::curve: {
        auto const p = from;
        for (int i = 1; i <= 8; ++i) {
          double const t = i / 8.0;
          along({cubic_at(p.x, points[at].x, points[at + 1].x, points[at + 2].x, t),
                 cubic_at(p.y, points[at].y, points[at + 1].y, points[at + 2].y, t)});
        }
        at += 3;
      }
    }
  }
  return found.value_or(least);
}

/// The sides of a parallelogram, the shorter one as the distance of the longer ones; nothing where the path is another.
std::optional<std::pair<double, double>> bar(Outline const& outline, ToSeen const& m) {
  auto const& p = outline.points();
  auto const& verbs = outline.verbs();
  if (p.size() < 4 || p.size() > 5 || verbs.front() != Outline::Verb::move) return std::nullopt;
  for (std::size_t i = 1; i < verbs.size(); ++i)
    if (verbs[i] != Outline::Verb::line && !(verbs[i] == Outline::Verb::close && i + 1 == verbs.size())) return std::nullopt;
  SeenPoint q[4];
  for (std::size_t i = 0; i < 4; ++i) q[i] = m.apply(p[i]);
  constexpr double kSame = 0.01;
  if (p.size() == 5 && std::hypot(m.apply(p[4]).x - q[0].x, m.apply(p[4]).y - q[0].y) > kSame) return std::nullopt;
  if (std::hypot(q[0].x - q[1].x + q[2].x - q[3].x, q[0].y - q[1].y + q[2].y - q[3].y) > kSame) return std::nullopt;
  double const ax = q[1].x - q[0].x, ay = q[1].y - q[0].y, bx = q[3].x - q[0].x, by = q[3].y - q[0].y;
  double const longer = std::max(std::hypot(ax, ay), std::hypot(bx, by));
  if (!(longer > 0)) return std::nullopt;
  return std::pair{std::fabs(ax * by - ay * bx) / longer, longer};
}

/// The em as it is read: its height, or twice its width where letters are drawn very narrow.
double em_of(ToSeen const& m) {
  double const along = std::hypot(m.a, m.b);
  return along > 0 ? std::min(std::fabs(m.determinant()) / along, 2 * along) : 0;
}

// A Type 3 font has no em of its own; capital letters are about so high in others (from memory).
constexpr double kCapitalsOfEm = 0.7;

// A faint fill of another form than a rectangle is a ground only where it is large and simple.
constexpr double kLeastFaintShare = 0.02;  // of what is seen
constexpr std::size_t kMostFaintPoints = 2000;

}  // namespace

std::optional<SeenRect> InkDevice::shown_for_art(SeenRect const& bounds) const {
  if (!art_ || type3_depth_ > 0 || clips_.top().empty) return std::nullopt;
  for (auto const& layer : layers_)
    if (layer.mask) return std::nullopt;
  auto const box = intersection(bounds, clips_.top().bounds);
  return box ? intersection(*box, seen_) : std::nullopt;
}

ArtPaint InkDevice::art_paint(Color const& color) {
  paint_for(color);  // for its colour in RGB
  Rgb const rgb = laid(last_rgb_, color);
  return {color.space,
          color.values,
          color.alpha * clips_.top().alpha,
          color.params.op != 0,
          transfer() != nullptr,
          rgb,
          transfer() ? tint_of(rgb) : last_tint_.value_or(0),
          clips_.top().darkens};
}

bool InkDevice::hides_art(ArtPaint const& paint) const {
  Clip const& clip = clips_.top();
  return layers_.size() == 1 && paint.alpha > kFull && !paint.overprints && !clip.blends && !clip.darkens && clip.upright;
}

void InkDevice::note_art_fill(SeenRect const& bounds, bool rectangle, bool even_odd, ToSeen const& matrix, Color const& color) {
  if (colourant_of(ctx_, color.space) == Colourant::none) return;
  auto const shown = shown_for_art(bounds);
  if (!shown) return;
  Clip const& clip = clips_.top();
  ArtPaint const paint = art_paint(color);
  if (hides_art(paint) && art_->has_small(*shown)) {
    std::optional<Polygon> shape;
    art_->cover(*shown, [&](SeenRect const& place) {
      if (!rectangle && !shape) shape = fill_polygon(outline_, even_odd, matrix);
      return rectangle || shape->covers(place);
    });
  }
  if (layer().tile && rectangle) layer().tinted += paint.tint * paint.alpha * shown->area();
  art_->fill(bounds, *shown, rectangle && clip.upright, rectangle ? std::nullopt : bar(outline_, matrix), paint);
  float const laid = paint.tint * paint.alpha;
  bool const faint = laid > kTraceTint && laid <= kMostFaint && shown->area() > kLeastFaintShare * seen_.area();
  if (!faint || (rectangle && clip.upright) || !(clip.upright || clip.region)) return;
  Polygon const shape = fill_polygon(outline_, even_odd, matrix);
  if (shape.size() > kMostFaintPoints) return;
  art_->faint(*shown, paint, [&](SeenPoint at) { return shape.contains(at) && (clip.upright || clip.region->contains(at)); });
}

/// Tints that turned out to be faint once they were looked at.
void InkDevice::note_art_faint(SeenRect const& bounds, float tint, float alpha) {
  if (!art_ || !(tint > 0) || !clips_.top().upright) return;
  auto const shown = shown_for_art(bounds);
  if (!shown) return;
  if (clips_.top().darkens) art_->faint(*shown, 1, tint * alpha);
  else art_->faint(*shown, tint, alpha);
}

void InkDevice::note_art_pattern(Layer const& tile, SeenRect const& where) {
  double const cell = std::fabs(tile.xstep * tile.ystep * tile.matrix.determinant());
  if (art_ && tile.tinted > 0 && cell > 0) note_art_faint(where, 1, static_cast<float>(std::min(1.0, tile.tinted / cell)));
}

bool InkDevice::may_be_ground(SeenRect const& bounds) const {
  auto const shown = shown_for_art(bounds);
  return shown && shown->area() > kLeastFaintShare * seen_.area();
}

void InkDevice::note_art_stroke(SeenRect const& bounds, double radius, ToSeen const& matrix, Color const& color) {
  if (colourant_of(ctx_, color.space) == Colourant::none) return;
  if (auto const shown = shown_for_art(bounds)) art_->stroke(*shown, 2 * radius * narrowest(outline_, matrix), art_paint(color));
}

void InkDevice::note_art_outline(fz_text const* text, double radius, ToSeen const& matrix, Color const& color) {
  auto const paint = art_paint(color);
  Rgb const& c = last_rgb_;
  bool const bolder = filled_text_ == text && c.r == filled_rgb_.r && c.g == filled_rgb_.g && c.b == filled_rgb_.b;
  filled_text_ = nullptr;
  if (bolder || colourant_of(ctx_, color.space) == Colourant::none) return;
  std::optional<SeenRect> all;
  for (auto const* span = text->head; span != nullptr; span = span->next) {
    if (span->font == nullptr || span->font->t3procs != nullptr) continue;
    ToSeen const turned = then(Matrix<MarkSpace, MarkSpace>{span->trm.a, span->trm.b, span->trm.c, span->trm.d, 0, 0}, matrix);
    for (int i = 0; i < span->len; ++i) {
      if (span->items[i].gid < 0) continue;
      auto const place = matrix.apply(Point<MarkSpace>{span->items[i].x, span->items[i].y});
      auto const bounds = glyphs_.bounds(span->font, span->items[i].gid, {turned.a, turned.b, turned.c, turned.d, place.x, place.y});
      if (auto const shown = bounds ? shown_for_art(*bounds) : std::nullopt) all = united(all, shown);
    }
  }
  if (all) art_->stroke(*all, 2 * radius * least_scale(matrix), paint);
}

void InkDevice::note_art_text(fz_text const* text, ToSeen const& ctm, Color const& color) {
  if (colourant_of(ctx_, color.space) == Colourant::none) return;
  for (auto const* span = text->head; span != nullptr; span = span->next) {
    if (span->font == nullptr) continue;
    ToSeen const turned = then(Matrix<MarkSpace, MarkSpace>{span->trm.a, span->trm.b, span->trm.c, span->trm.d, 0, 0}, ctm);
    bool const type3 = span->font->t3procs != nullptr;
    std::optional<SeenRect> all;
    double tallest = 0;
    long glyphs = 0, missing = 0;
    for (int i = 0; i < span->len; ++i) {
      auto const& item = span->items[i];
      if (item.gid < 0) continue;
      auto const place = ctm.apply(Point<MarkSpace>{item.x, item.y});
      auto const bounds = glyphs_.bounds(span->font, item.gid, {turned.a, turned.b, turned.c, turned.d, place.x, place.y});
      auto const shown = bounds ? shown_for_art(*bounds) : std::nullopt;
      if (!shown) continue;
      ++glyphs;
      if (item.gid == 0 && !type3) ++missing;
      tallest = std::max(tallest, bounds->height());
      all = united(all, shown);
    }
    if (!all) continue;
    double const em = type3 ? tallest / kCapitalsOfEm : em_of(turned);
    art_->text(*all, span->font, em, glyphs, missing, art_paint(color));
  }
}

void InkDevice::note_picture_art(ImageInk const& ink, ToSeen const& m) {
  // Our own: a thinner line, or a smaller speck, of paper-white is a highlight or an edge.
  constexpr double kLeastThickness = 0.4, kLeastArea = 2;  // points, square points
  double const wide = std::hypot(m.a, m.b) / ink.width, high = std::hypot(m.c, m.d) / ink.height;
  for (auto const& part : ink.white) {
    if (part.thickness * std::min(wide, high) < kLeastThickness || part.area * wide * high < kLeastArea) continue;
    auto const at = [](int pixel, int of) { return static_cast<double>(pixel) / of; };
    if (auto const shown =
            shown_for_art(m.apply(Rect<MarkSpace>{at(part.x0, ink.width), at(part.y0, ink.height), at(part.x1, ink.width), at(part.y1, ink.height)})))
      art_->white_in_picture(*shown);
  }
  if (ink.flat) art_->flat_picture(m.apply(Rect<MarkSpace>{0, 0, 1, 1}));
}

void InkDevice::note_art_picture(fz_image* image, ToSeen const& matrix, float alpha, Color const* color) {
  auto const shown = shown_for_art(matrix.apply(Rect<MarkSpace>{0, 0, 1, 1}));
  if (!shown || (color && colourant_of(ctx_, color->space) == Colourant::none)) return;
  bool const straight = (matrix.b == 0 && matrix.c == 0) || (matrix.a == 0 && matrix.d == 0);
  if (!color && straight && image->mask == nullptr && hides_art({nullptr, nullptr, alpha, false, false, {}}) && art_->has_small(*shown))
    art_->cover(*shown, [](SeenRect const&) { return true; });
  if (color) art_->stencil_color(*shown, art_paint(*color));
  if (!image->mask && !image->imagemask && !clips_.top().darkens) art_->faint(*shown, 1, alpha);  // until it is looked at
  art_->picture(image, matrix, *shown, alpha);
}

}  // namespace layright
