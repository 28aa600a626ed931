#include "verify/mark_digest.h"

#include <algorithm>
#include <cmath>

#include "marks/outline.h"
#include "mupdf/device_calls.h"
#include "verify/trace_recorder.h"

namespace layright {
namespace {

constexpr int kMostDepth = 4;

std::uint64_t image_bytes(fz_context* ctx, fz_image* image) {
  Hash64 digest;
  fz_compressed_buffer* packed = nullptr;
  fz_pixmap* pixels = nullptr;
  fz_var(packed);
  fz_var(pixels);
  fz_try(ctx) packed = fz_compressed_image_buffer(ctx, image);
  fz_catch(ctx) packed = nullptr;
  if (packed && packed->buffer) {
    unsigned char* bytes = nullptr;
    std::size_t const size = fz_buffer_storage(ctx, packed->buffer, &bytes);
    digest.add_bytes(bytes, size);
    return digest.value();
  }
  pixels = image_pixels(ctx, image, fz_scale(static_cast<float>(image->w), static_cast<float>(image->h)));
  if (pixels) digest.add_bytes(pixels->samples, static_cast<std::size_t>(pixels->stride) * static_cast<std::size_t>(pixels->h));
  fz_drop_pixmap(ctx, pixels);
  return digest.value();
}

std::uint64_t font_bytes(fz_context* ctx, fz_font* font) {
  unsigned char bytes[16] = {};
  Hash64 digest;
  if (font->buffer != nullptr) {
    int ok = 1;
    fz_var(ok);
    fz_try(ctx) fz_font_digest(ctx, font, bytes);
    fz_catch(ctx) ok = 0;
    if (ok) digest.add_bytes(bytes, sizeof bytes);
  }
  return digest.value();
}

/// Adds up what a Type 3 glyph draws.
class GlyphTrace : public MarkTrace {
 public:
  void begin_page(PageFrame const&) override {}
  void end_page() override {}
  void mark(MarkEntry const& e) override {
    digest_.add(e.kind).add(e.digest);
    for (float v : e.matrix) digest_.add(v);
  }
  std::uint64_t value() const { return digest_.value(); }

 private:
  Hash64 digest_;
};

fz_rect around(fz_rect r, float x, float y) { return {std::min(r.x0, x), std::min(r.y0, y), std::max(r.x1, x), std::max(r.y1, y)}; }

}  // namespace

MarkDigests::~MarkDigests() { end_page(); }

void MarkDigests::end_page() {
  for (auto& [font, value] : fonts_) fz_drop_font(ctx_, font);
  for (auto& [image, value] : images_) fz_drop_image(ctx_, image);
  fonts_.clear();
  type3_.clear();
  images_.clear();
  held_ = {};
}

fz_rect MarkDigests::path(Hash64& digest, fz_path const* path, bool* upright_rectangle) {
  Outline outline;
  read_outline(ctx_, path, outline);
  digest.add_bytes(outline.verbs().data(), outline.verbs().size());
  digest.add_bytes(outline.points().data(), outline.points().size() * sizeof outline.points()[0]);
  if (upright_rectangle) *upright_rectangle = outline.upright_rectangle().has_value();
  if (!outline.control_box()) return {0, 0, 0, 0};
  auto const& b = *outline.control_box();
  return {static_cast<float>(b.x0), static_cast<float>(b.y0), static_cast<float>(b.x1), static_cast<float>(b.y1)};
}

void MarkDigests::stroke(Hash64& digest, fz_stroke_state const& s) {
  digest.add(s.start_cap).add(s.dash_cap).add(s.end_cap).add(s.linejoin).add(s.linewidth).add(s.miterlimit).add(s.dash_phase);
  digest.add(s.dash_len);
  for (int i = 0; i < s.dash_len; ++i) digest.add(s.dash_list[i]);
}

void MarkDigests::space(Hash64& digest, fz_colorspace* space) {
  if (space == nullptr) {
    digest.add(0);
    return;
  }
  digest.add(space->type).add(space->n);
  if (space->name) digest.add_bytes(space->name, std::strlen(space->name));
  if (space->type == FZ_COLORSPACE_INDEXED) {
    this->space(digest, space->u.indexed.base);
    std::size_t const size =
        static_cast<std::size_t>(space->u.indexed.high + 1) * static_cast<std::size_t>(fz_colorspace_n(ctx_, space->u.indexed.base));
    digest.add_bytes(space->u.indexed.lookup, size);
  }
  if (space->type == FZ_COLORSPACE_SEPARATION) {
    for (int i = 0; i < space->n; ++i)
      if (char const* name = space->u.separation.colorant[i]) digest.add_bytes(name, std::strlen(name));
    this->space(digest, space->u.separation.base);
  }
}

void MarkDigests::color(Hash64& digest, MarkColor const& color) {
  space(digest, color.space);
  int const n = color.space ? fz_colorspace_n(ctx_, color.space) : 0;
  for (int i = 0; i < n; ++i) digest.add(color.values[i]);
  if (color.space && color.space->type == FZ_COLORSPACE_SEPARATION) {  // what the ink looks like where it is not to be had
    Rgb const rgb = rgb_of(ctx_, color.space, color.values, color.params);
    digest.add(rgb.r).add(rgb.g).add(rgb.b);
  }
  auto const& params = color.params;
  digest.add(color.alpha).add(params.ri).add(params.bp).add(params.op).add(params.opm);
}

std::uint64_t MarkDigests::font(fz_font* font) {
  auto const [it, added] = fonts_.try_emplace(font, 0);
  if (!added) return it->second;
  fz_keep_font(ctx_, font);
  Hash64 digest;
  digest.add_bytes(font->name, strnlen(font->name, sizeof font->name));
  digest.add(font_bytes(ctx_, font));
  if (font->t3procs)
    for (float v : {font->t3matrix.a, font->t3matrix.b, font->t3matrix.c, font->t3matrix.d, font->t3matrix.e, font->t3matrix.f}) digest.add(v);
  return it->second = digest.value();
}

std::uint64_t MarkDigests::type3_glyph(fz_font* font, int glyph) {
  auto const [it, added] = type3_.try_emplace({font, glyph}, 0);
  if (!added || depth_ >= kMostDepth || glyph > 255) return it->second;
  ++depth_;
  GlyphTrace tape;
  {
    TraceRecorder feed(tape, *this);
    fz_device* device = new_mark_device(ctx_, feed);
    if (device) run_type3_glyph(ctx_, font, glyph, fz_identity, device);
    fz_drop_device(ctx_, device);
  }
  --depth_;
  return type3_[{font, glyph}] = tape.value();
}

fz_rect MarkDigests::text(Hash64& digest, fz_text const* text) {
  fz_rect box = fz_infinite_rect;
  bool any = false;
  for (auto const* span = text->head; span != nullptr; span = span->next) {
    if (span->font == nullptr) continue;
    fz_matrix const& m = span->trm;
    digest.add(font(span->font)).add(m.a).add(m.b).add(m.c).add(m.d).add(static_cast<int>(span->wmode));
    float const reach = std::max({std::fabs(m.a), std::fabs(m.b), std::fabs(m.c), std::fabs(m.d)});
    for (int i = 0; i < span->len; ++i) {
      auto const& item = span->items[i];
      if (item.gid < 0) continue;
      digest.add(item.gid).add(item.x).add(item.y);
      if (span->font->t3procs) digest.add(type3_glyph(span->font, item.gid));
      box = any ? around(around(box, item.x, item.y), item.x + reach, item.y + reach) : fz_rect{item.x, item.y, item.x + reach, item.y + reach};
      any = true;
    }
  }
  return any ? box : fz_rect{0, 0, 0, 0};
}

void MarkDigests::image(Hash64& digest, fz_image* image) {
  auto const known = images_.find(image);
  if (known != images_.end()) {
    digest.add(known->second);
    return;
  }
  Hash64 own;
  own.add(image->w).add(image->h).add(static_cast<int>(image->n)).add(static_cast<int>(image->bpc));
  own.add(static_cast<int>(image->imagemask)).add(static_cast<int>(image->interpolate));
  own.add(static_cast<int>(image->use_colorkey)).add(static_cast<int>(image->use_decode));
  space(own, image->colorspace);
  int const keys = image->mask ? image->n : 2 * image->n;  // with a mask it is the matte: one value a component
  for (int i = 0; i < 2 * std::min<int>(image->n, FZ_MAX_COLORS); ++i) {
    if (image->use_colorkey && i < keys) own.add(image->colorkey[i]);
    if (image->use_decode) own.add(image->decode[i]);
  }
  own.add(image_bytes(ctx_, image));
  if (image->mask) this->image(own, image->mask);
  images_[fz_keep_image(ctx_, image)] = own.value();
  held_.add(ctx_, image, image);
  held_.fit(ctx_, [&](fz_image* oldest) {
    images_.erase(oldest);
    fz_drop_image(ctx_, oldest);
  });
  digest.add(own.value());
}

fz_rect MarkDigests::shade(Hash64& digest, fz_shade* shade) {
  digest.add(shade->type).add(shade->use_background).add(shade->use_function);
  space(digest, shade->colorspace);
  int const n = shade->colorspace ? std::min<int>(fz_colorspace_n(ctx_, shade->colorspace), FZ_MAX_COLORS) : 0;
  fz_matrix const& m = shade->matrix;
  for (float v : {m.a, m.b, m.c, m.d, m.e, m.f, shade->bbox.x0, shade->bbox.y0, shade->bbox.x1, shade->bbox.y1}) digest.add(v);
  if (shade->use_background)
    for (int i = 0; i < n; ++i) digest.add(shade->background[i]);
  if (shade->use_function)
    for (auto const& row : shade->function)
      for (int i = 0; i < n; ++i) digest.add(row[i]);
  if (shade->type == FZ_LINEAR || shade->type == FZ_RADIAL) {
    digest.add(shade->u.l_or_r.extend[0]).add(shade->u.l_or_r.extend[1]);
    for (auto const& end : shade->u.l_or_r.coords)
      for (float v : end) digest.add(v);
  } else if (shade->type == FZ_FUNCTION_BASED) {
    auto const& f = shade->u.f;
    digest.add(f.xdivs).add(f.ydivs).add(f.domain[0][0]).add(f.domain[0][1]).add(f.domain[1][0]).add(f.domain[1][1]);
    for (float v : {f.matrix.a, f.matrix.b, f.matrix.c, f.matrix.d, f.matrix.e, f.matrix.f}) digest.add(v);
    if (f.fn_vals && f.xdivs >= 0 && f.ydivs >= 0)
      digest.add_bytes(f.fn_vals,
                       sizeof(float) * static_cast<std::size_t>(f.xdivs + 1) * static_cast<std::size_t>(f.ydivs + 1) * static_cast<std::size_t>(n));
  } else {
    auto const& g = shade->u.m;
    digest.add(g.vprow).add(g.bpflag).add(g.bpcoord).add(g.bpcomp).add(g.x0).add(g.x1).add(g.y0).add(g.y1);
  }
  if (shade->buffer && shade->buffer->buffer) {
    unsigned char* bytes = nullptr;
    std::size_t const size = fz_buffer_storage(ctx_, shade->buffer->buffer, &bytes);
    digest.add_bytes(bytes, size);
  }
  return fz_is_infinite_rect(shade->bbox) ? fz_rect{0, 0, 100, 100} : fz_transform_rect(shade->bbox, shade->matrix);
}

}  // namespace layright
