#include "marks/glyph_extents.h"

#include <cmath>
#include <cstddef>

#include "marks/glyph_whole.h"

namespace layright {
namespace {

constexpr double kPerEm = 1000;             // outlines are measured at this many units an em, so that thin parts keep their area
constexpr float kEmptyBox = 1e-5F;          // the library's box of a space is not quite empty (in ems)
Rect<MarkSpace> const kEm{0, -0.25, 1, 1};  // where a letter may be of which nothing is known (in ems; common practice, no published source)
constexpr int kMostGlyphs = 1 << 17;

bool upright(ToSeen const& m) { return (m.b == 0 && m.c == 0) || (m.a == 0 && m.d == 0); }

Outline transformed(Outline const& outline, fz_matrix const& m) {
  Outline out;
  auto const& points = outline.points();
  std::size_t i = 0;
  auto next = [&] {
    auto const p = points[i++];
    return Point<MarkSpace>{m.a * p.x + m.c * p.y + m.e, m.b * p.x + m.d * p.y + m.f};
  };
  for (auto verb : outline.verbs()) {
    switch (verb) {
      case Outline::Verb::move: {
        auto const p = next();
        out.move(p.x, p.y);
        break;
      }
      case Outline::Verb::line: {
        auto const p = next();
        out.line(p.x, p.y);
        break;
      }
      case Outline::Verb::curve: {
        auto const p = next(), q = next(), r = next();
        out.curve(p.x, p.y, q.x, q.y, r.x, r.y);
        break;
      }
      case Outline::Verb::close: out.close(); break;
    }
  }
  return out;
}

bool is_nothing(std::optional<fz_rect> const& box) { return !box || (box->x1 - box->x0 < kEmptyBox && box->y1 - box->y0 < kEmptyBox); }

/// The library keeps the box of a glyph from when it set the text, and only then told of one that it could not read: now it tells again.
void forget_box(fz_font* font, int glyph) {
  if (!font->bbox_table || glyph >= font->glyph_count) return;
  if (fz_rect* const block = font->bbox_table[glyph >> 8]) block[glyph & 255] = fz_empty_rect;
}

/// The library reads a font as it can. One that it took in another's stead is whole.
bool is_damaged(fz_context* ctx, fz_font* font, int glyph, bool not_read, bool shows) {
  if (font->t3procs != nullptr || font->flags.ft_substitute) return false;
  if (not_read && glyph < font->glyph_count) return true;
  unsigned char* bytes = nullptr;
  std::size_t const size = font->buffer ? fz_buffer_storage(ctx, font->buffer, &bytes) : 0;
  return !glyph_is_whole({bytes, size}, glyph, shows);
}

}  // namespace

GlyphCache::~GlyphCache() {
  for (auto& [font, book] : fonts_) fz_drop_font(ctx_, font);
}

std::optional<GlyphPicture> GlyphCache::picture(fz_font* font, int number) {
  Glyph* const glyph = find(font, number);
  if (!glyph) return std::nullopt;
  if (!glyph->picture) glyph->picture = std::make_unique<std::optional<GlyphPicture>>(draw_glyph(ctx_, font, number));
  return *glyph->picture;
}

void GlyphCache::end_page() {
  ++page_;
  last_font_ = nullptr;
  last_ = nullptr;
  for (auto it = fonts_.begin(); it != fonts_.end();) {
    if (page_ - it->second.last_page <= kIdlePages) {
      ++it;
      continue;
    }
    fz_drop_font(ctx_, it->first);
    it = fonts_.erase(it);
  }
}

GlyphCache::Glyph* GlyphCache::find(fz_font* font, int number) {
  if (number < 0 || number >= kMostGlyphs) return nullptr;
  if (font != last_font_) {
    auto [it, added] = fonts_.try_emplace(font);
    if (added) fz_keep_font(ctx_, font);
    last_font_ = font;
    last_ = &it->second;
    last_->last_page = page_;
  }
  auto const block = static_cast<std::size_t>(number) / 64, at = static_cast<std::size_t>(number) % 64;
  if (last_->blocks.size() <= block) last_->blocks.resize(block + 1);
  if (!last_->blocks[block]) last_->blocks[block] = std::make_unique<Block>();
  Glyph& glyph = (*last_->blocks[block])[at];
  if (!glyph.known) {
    glyph.known = true;
    fz_flush_warnings(ctx_);  // one that is reported again is only counted until then
    heard_.letter = false;
    auto const box = glyph_control_box(ctx_, font, number);
    glyph.empty = is_nothing(box);
    if (glyph.empty && font->t3procs == nullptr) {
      forget_box(font, number);
      glyph_control_box(ctx_, font, number);
    }
    glyph.damaged = is_damaged(ctx_, font, number, heard_.letter, !glyph.empty);
    if (box) glyph.control = {box->x0, box->y0, box->x1, box->y1};
    if (glyph.empty && glyph.damaged) glyph.empty = false, glyph.control = kEm;
  }
  return glyph.empty ? nullptr : &glyph;
}

Outline const* GlyphCache::outline(fz_font* font, int number, Glyph& glyph) {
  if (!glyph.outline) {
    glyph.outline = std::make_unique<Outline>();
    if (fz_path* path = glyph_outline(ctx_, font, number, fz_scale(kPerEm, kPerEm))) {
      read_outline(ctx_, path, *glyph.outline);
      fz_drop_path(ctx_, path);
    }
  }
  return glyph.outline->empty() ? nullptr : glyph.outline.get();
}

bool GlyphCache::damaged(fz_font* font, int number) {
  Glyph const* glyph = find(font, number);
  return glyph != nullptr && glyph->damaged;
}

std::optional<SeenRect> GlyphCache::bounds(fz_font* font, int number, ToSeen const& matrix) {
  Glyph const* glyph = find(font, number);
  if (glyph == nullptr) return std::nullopt;
  return matrix.apply(glyph->control);
}

std::optional<SeenRect> GlyphCache::extents(fz_font* font, int number, ToSeen const& matrix, std::optional<SeenRect> const& window) {
  Glyph* glyph = find(font, number);
  if (glyph == nullptr) return std::nullopt;
  Outline const* shape = outline(font, number, *glyph);
  if (shape == nullptr) {  // no outline to be had: the box is all that is known
    SeenRect const box = matrix.apply(glyph->control);
    return window ? intersection(box, *window) : box;
  }
  ToSeen const from_units = then(scaling<MarkSpace>(1 / kPerEm), matrix);
  if (window) return fill_polygon(*shape, false, from_units).extents_within(*window);
  if (!upright(matrix)) return fill_extents(*shape, from_units);
  if (!glyph->measured) {
    glyph->measured = true;
    auto const box = fill_extents(*shape, ToSeen{});
    glyph->empty = !box;
    if (box) glyph->exact = {box->x0, box->y0, box->x1, box->y1};
  }
  if (glyph->empty) return std::nullopt;
  return from_units.apply(glyph->exact);
}

std::optional<SeenRect> GlyphCache::stroke_extents(fz_font* font, int number, fz_matrix const& to_user, StrokeStyle const& style,
                                                   ToSeen const& matrix, std::optional<SeenRect> const& window) {
  Glyph* glyph = find(font, number);
  if (glyph == nullptr) return std::nullopt;
  Outline const* shape = outline(font, number, *glyph);
  if (shape == nullptr)
    return extents(font, number, then(Matrix<MarkSpace, MarkSpace>{to_user.a, to_user.b, to_user.c, to_user.d, to_user.e, to_user.f}, matrix),
                   window);
  Outline const drawn = transformed(*shape, fz_pre_scale(to_user, 1 / kPerEm, 1 / kPerEm));
  return layright::stroke_extents(drawn, style, matrix, window);
}

}  // namespace layright
