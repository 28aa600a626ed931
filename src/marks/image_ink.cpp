#include "marks/image_ink.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "marks/jpeg_ink.h"
#include "marks/picture_white.h"
#include "marks/picture_whole.h"
#include "marks/pixel_judge.h"
#include "marks/polygon.h"

namespace layright {
namespace {

// 288 dpi: the edge of what leaves ink is found to a quarter of a point outward; pictures up to that are looked at pixel by pixel.
constexpr float kPixelsAPoint = 4;

/// Pixels of one picture as something to ask for opacity and colour. Owns nothing.
struct Pixels {
  fz_pixmap const* map = nullptr;
  int width() const { return map->w; }
  int height() const { return map->h; }
  unsigned char const* at(int x, int y) const { return map->samples + static_cast<std::ptrdiff_t>(y) * map->stride + x * map->n; }
};

void look(ImageInk& ink, Pixels image, Pixels mask, PixelJudge const& judge, Loss loss) {
  ink.width = mask.map ? std::max(image.width(), mask.width()) : image.width();
  ink.height = mask.map ? std::max(image.height(), mask.height()) : image.height();
  ink.rows.assign(static_cast<std::size_t>(ink.height), {});
  ink.faint.assign(static_cast<std::size_t>(ink.height), {});
  ink.all = true;
  auto const in_image = [&](int x, int y) {
    return image.at(static_cast<int>(static_cast<long long>(x) * image.width() / ink.width),
                    static_cast<int>(static_cast<long long>(y) * image.height() / ink.height));
  };
  auto const opacity = [&](int x, int y) {
    if (!mask.map) return 255;
    auto const* p = mask.at(static_cast<int>(static_cast<long long>(x) * mask.width() / ink.width),
                            static_cast<int>(static_cast<long long>(y) * mask.height() / ink.height));
    return static_cast<int>(p[mask.map->n - 1]);
  };
  bool const looks_for_white = judge.rule() == InkRule::on_paper && !loss.drawn;
  WhiteParts white;
  std::vector<WhiteKind> kinds(looks_for_white ? static_cast<std::size_t>(ink.width) : 0);
  auto const first = std::span(image.at(0, 0), static_cast<std::size_t>(image.map->n));
  bool flat = true;
  for (int y = 0; y < ink.height; ++y) {
    int const iy = static_cast<int>(static_cast<long long>(y) * image.height() / ink.height);
    bool const same = image.width() == ink.width;
    for (int x = 0; x < ink.width; ++x) {
      auto const* const at = same ? image.at(x, iy) : in_image(x, y);
      auto const pixel = judge(at, opacity(x, y));
      note_pixel(ink, static_cast<std::size_t>(y), x, pixel);
      if (looks_for_white) kinds[static_cast<std::size_t>(x)] = white_kind(pixel);
      if (flat) flat = std::equal(first.begin(), first.end(), at);
    }
    if (looks_for_white) white.row(kinds.data(), ink.width);
  }
  ink.flat = flat;
  ink.white = white.parts();
  PictureBorder border;
  if (looks_for_white) {
    auto const add = [&](int x, int y) { border.add(judge.tint(in_image(x, y), opacity(x, y))); };
    for (int x = 0; x < ink.width; ++x) add(x, 0);
    for (int y = 1; y < ink.height; ++y) add(ink.width - 1, y);
    for (int x = ink.width - 1; x-- > 0;) add(x, ink.height - 1);
    for (int y = ink.height - 1; y-- > 1;) add(0, y);
    return settle_white(ink, border, loss.colours);
  }
  border.add(0);
  settle_white(ink, border, false);
}

int type_of(fz_context* ctx, fz_image* image) {
  int type = FZ_IMAGE_UNKNOWN;
  fz_var(type);
  fz_try(ctx) {
    auto const* const buffer = image ? fz_compressed_image_buffer(ctx, image) : nullptr;
    if (buffer) type = buffer->params.type;
  }
  fz_catch(ctx) type = FZ_IMAGE_UNKNOWN;
  return type;
}

/// JPEG and JPEG 2000 (whose other form without loss cannot be told from here).
bool lossy(fz_context* ctx, fz_image* image) {
  int const type = type_of(ctx, image);
  return type == FZ_IMAGE_JPEG || type == FZ_IMAGE_JPX;
}

bool is_jbig2(fz_context* ctx, fz_image* image) { return type_of(ctx, image) == FZ_IMAGE_JBIG2; }

bool too_large(fz_image const& image) { return static_cast<double>(image.w) * image.h > kMostImagePixels || image.w <= 0 || image.h <= 0; }

ImageInk unread() {
  ImageInk ink;
  ink.rows = {{0, 1}};
  ink.any = ink.all = true;
  ink.read = false;
  return ink;
}

bool plain(fz_context* ctx, fz_pixmap const& map) {
  if (map.colorspace == nullptr) return true;
  return map.s == 0 && (map.colorspace == fz_device_gray(ctx) || map.colorspace == fz_device_rgb(ctx));
}

/// Gray, RGB or alpha only; takes the reference that `map` is.
fz_pixmap* made_plain(fz_context* ctx, fz_pixmap* map) {
  if (map == nullptr || plain(ctx, *map)) return map;
  fz_pixmap* rgb = pixels_in_rgb(ctx, map);
  fz_drop_pixmap(ctx, map);
  return rgb;
}

}  // namespace

void ImageInk::cut_short(int row) {
  for (auto y = static_cast<std::size_t>(std::clamp(row, 0, height)); y < rows.size(); ++y) rows[y] = {};
  any = std::any_of(rows.begin(), rows.end(), [](Span const& s) { return s.from < s.to; });
  if (row < height) all = false;
}

std::optional<SeenRect> ImageInk::extents(ToSeen const& matrix, std::optional<SeenRect> const& window) const {
  if (!any) return std::nullopt;
  std::optional<SeenRect> found;
  bool const upright = (matrix.b == 0 && matrix.c == 0) || (matrix.a == 0 && matrix.d == 0);
  double const h = height, w = width;
  if (upright && !window) {  // one box around all spans
    int x0 = width, x1 = 0, y0 = height, y1 = 0;
    for (int y = 0; y < height; ++y) {
      auto const& s = rows[static_cast<std::size_t>(y)];
      if (s.from >= s.to) continue;
      x0 = std::min(x0, s.from);
      x1 = std::max(x1, s.to);
      y0 = std::min(y0, y);
      y1 = std::max(y1, y + 1);
    }
    return matrix.apply(Rect<MarkSpace>{x0 / w, y0 / h, x1 / w, y1 / h});
  }
  Polygon cell{{{}}, false};
  for (int y = 0; y < height; ++y) {
    auto const& s = rows[static_cast<std::size_t>(y)];
    if (s.from >= s.to) continue;
    Rect<MarkSpace> const r{s.from / w, y / h, s.to / w, (y + 1) / h};
    std::optional<SeenRect> part;
    if (upright) {
      part = window ? intersection(matrix.apply(r), *window) : matrix.apply(r);
    } else if (!window) {
      part = matrix.apply(r);
    } else {
      cell.rings[0] = {matrix.apply(Point<MarkSpace>{r.x0, r.y0}), matrix.apply(Point<MarkSpace>{r.x1, r.y0}),
                       matrix.apply(Point<MarkSpace>{r.x1, r.y1}), matrix.apply(Point<MarkSpace>{r.x0, r.y1})};
      part = cell.extents_within(*window);
    }
    found = united(found, part);
  }
  return found;
}

ImageInk look_at_pixels(fz_pixmap const& pixels, fz_pixmap const* mask, InkRule rule, float alpha, Loss loss) {
  ImageInk ink;
  look(ink, {&pixels}, {mask}, PixelJudge(rule, alpha, pixels.n, pixels.alpha != 0, loss.mask), loss);
  return ink;
}

ImageCache::~ImageCache() {
  for (auto& [key, kept] : kept_) {
    fz_drop_image(ctx_, std::get<0>(key));
    fz_drop_image(ctx_, std::get<1>(key));
  }
  for (auto& [image, whole] : whole_) fz_drop_image(ctx_, image);
}

void ImageCache::end_page() {
  constexpr std::size_t kMost = 64;
  bool const all = kept_.size() > kMost;
  for (auto it = kept_.begin(); it != kept_.end();) {
    if (!all && it->second.last_page == page_) {
      ++it;
      continue;
    }
    fz_drop_image(ctx_, std::get<0>(it->first));
    fz_drop_image(ctx_, std::get<1>(it->first));
    it = kept_.erase(it);
  }
  for (auto it = whole_.begin(); it != whole_.end();) {
    if (it->second.last_page == page_ && whole_.size() <= kMost) {
      ++it;
      continue;
    }
    fz_drop_image(ctx_, it->first);
    it = whole_.erase(it);
  }
  held_.only([&](Key const& key) { return kept_.contains(key); });
  ++page_;
}

bool ImageCache::is_cut(fz_image* image) {
  if (!image || too_large(*image)) return false;
  auto [it, added] = whole_.try_emplace(image);
  it->second.last_page = page_;
  if (!added) return it->second.cut;
  fz_keep_image(ctx_, image);
  fz_flush_warnings(ctx_);
  LibraryTrouble const before = heard_;
  it->second.cut = picture_is_cut(ctx_, image);
  heard_ = before;
  return it->second.cut;
}

void ImageCache::hear_whether_cut(fz_image* image, fz_image* mask) {
  if (is_cut(image) || is_cut(mask)) heard_.cut = true;
}

ImageInk const& ImageCache::find(fz_image* image, fz_image* mask, InkRule rule, float alpha, fz_matrix const& matrix) {
  Key const key{image, mask, static_cast<int>(rule), static_cast<int>(std::lround(alpha * 255))};
  auto [it, added] = kept_.try_emplace(key);
  Kept& kept = it->second;
  kept.last_page = page_;
  double const wide = std::hypot(matrix.a, matrix.b), high = std::hypot(matrix.c, matrix.d);
  // Looked at before, for a size at least about as large, or at each of its own pixels.
  hear_whether_cut(image, mask);
  if (kept.ink.cut) heard_.cut = true;
  if (!added &&
      (!kept.ink.read || (wide <= kept.width * 1.5 && high <= kept.height * 1.5) || (kept.ink.width >= image->w && kept.ink.height >= image->h)))
    return kept.ink;
  if (added) {
    fz_keep_image(ctx_, image);
    fz_keep_image(ctx_, mask);
    held_.add(ctx_, key, image, mask);
    held_.fit(ctx_, [&](Key const& oldest) {
      kept_.erase(oldest);
      fz_drop_image(ctx_, std::get<0>(oldest));
      fz_drop_image(ctx_, std::get<1>(oldest));
    });
  }
  kept.width = wide;
  kept.height = high;
  kept.ink = unread();
  if (too_large(*image) || (mask && too_large(*mask))) return kept.ink;
  fz_matrix const scaled = fz_post_scale(matrix, kPixelsAPoint, kPixelsAPoint);
  if (!mask)
    if (auto looked = look_at_jpeg(ctx_, image, scaled, rule, alpha)) {
      heard_.cut = heard_.cut || looked->cut;
      return kept.ink = std::move(*looked);
    }
  fz_flush_warnings(ctx_);  // one that is reported again is only counted until then
  bool const lost_before = std::exchange(heard_.lost, false);
  heard_.cut_short = false;
  fz_pixmap* pixels = made_plain(ctx_, image_pixels(ctx_, image, scaled));
  int const rows = heard_.cut_short ? rows_of_data(ctx_, image) : image->h;
  fz_pixmap* opacity = mask ? image_pixels(ctx_, mask, scaled) : nullptr;
  bool const lacks_segments = is_jbig2(ctx_, image) ? is_cut(image) : is_jbig2(ctx_, mask) && is_cut(mask);
  if (rows == 0 || lacks_segments) heard_.lost = true;
  bool const lost = std::exchange(heard_.lost, lost_before || heard_.lost);
  if (pixels && (!mask || opacity) && !lost) {
    kept.ink = look_at_pixels(*pixels, opacity, rule, alpha, {lossy(ctx_, image), lossy(ctx_, mask)});
  }
  if (rows < image->h && kept.ink.read) kept.ink.cut_short(static_cast<int>(std::ceil(static_cast<double>(rows) * kept.ink.height / image->h)));
  fz_drop_pixmap(ctx_, pixels);
  fz_drop_pixmap(ctx_, opacity);
  return kept.ink;
}

}  // namespace layright
