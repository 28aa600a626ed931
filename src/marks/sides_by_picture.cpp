#include "marks/sides_by_picture.h"

#include <algorithm>
#include <cmath>

#include "mupdf/colour_transfer.h"
#include "mupdf/page_run.h"

namespace layright {
namespace {

constexpr double kFinest = 4;  // pixels a point: 288 dpi tells a side to a quarter of a point
constexpr double kMostPixels144 = 4e6;
constexpr double kRim = 0.5;  // points around a strip, so that an edge on its border shows

/// Plain pointers only: the library's errors jump. Null when it failed.
fz_pixmap* draw(fz_context* ctx, pdf_page* page, fz_matrix matrix, fz_irect area, int clear, fz_cookie* cookie) {
  fz_pixmap* pixels = nullptr;
  fz_device* device = nullptr;
  fz_var(pixels);
  fz_var(device);
  fz_try(ctx) {
    pixels = fz_new_pixmap_with_bbox(ctx, fz_device_rgb(ctx), area, nullptr, clear);
    if (clear) fz_clear_pixmap(ctx, pixels);
    else fz_clear_pixmap_with_value(ctx, pixels, 255);
    device = fz_new_draw_device(ctx, fz_identity, pixels);
    see_true_colours_when_drawn(device);
  }
  fz_catch(ctx) {
    fz_drop_pixmap(ctx, pixels);
    return nullptr;
  }
  for (auto section : kPageSections) run_section(ctx, page, section, device, matrix, cookie);
  fz_try(ctx) fz_close_device(ctx, device);
  fz_always(ctx) fz_drop_device(ctx, device);
  fz_catch(ctx) {
    fz_drop_pixmap(ctx, pixels);
    pixels = nullptr;
  }
  return pixels;
}

/// Extents of the inked pixels.
std::optional<SeenRect> inked(fz_pixmap const& map, InkRule rule, bool noisy, double scale) {
  int x0 = map.w, x1 = 0, y0 = map.h, y1 = 0;
  for (int y = 0; y < map.h; ++y) {
    unsigned char const* p = map.samples + static_cast<std::ptrdiff_t>(y) * map.stride;
    for (int x = 0; x < map.w; ++x, p += map.n) {
      bool ink;
      if (map.alpha) ink = p[3] > 1;
      else if (p[0] == 255 && p[1] == 255 && p[2] == 255) continue;
      else {
        Rgb const c{p[0] / 255.0F, p[1] / 255.0F, p[2] / 255.0F};
        ink = noisy && rule == InkRule::on_paper ? !is_paper_white(c) : paint_of(rule, c, 1).ink;
      }
      if (!ink) continue;
      x0 = std::min(x0, x);
      x1 = std::max(x1, x + 1);
      y0 = std::min(y0, y);
      y1 = y + 1;
    }
  }
  if (x0 >= x1) return std::nullopt;
  return SeenRect{(map.x + x0) / scale, (map.y + y0) / scale, (map.x + x1) / scale, (map.y + y1) / scale};
}

class Decider {
 public:
  Decider(fz_context* ctx, pdf_page* page, fz_matrix matrix, SeenRect const& limit, InkRule rule, bool noisy, fz_cookie& cookie)
      : ctx_(ctx), page_(page), matrix_(matrix), limit_(limit), rule_(rule), noisy_(noisy), cookie_(cookie) {}

  /// What leaves ink inside `strip`, cut to it.
  std::optional<SeenRect> look(SeenRect const& strip) {
    auto const area = intersection(strip.grown(kRim), limit_.grown(kRim));
    if (!area) return std::nullopt;
    double const scale = std::min(kFinest, std::sqrt(kMostPixels144 / std::max(area->area(), 1.0)));
    fz_irect const pixels = fz_irect_from_rect(to_library(SeenRect{area->x0 * scale, area->y0 * scale, area->x1 * scale, area->y1 * scale}));
    float const s = static_cast<float>(scale);
    fz_pixmap* map = draw(ctx_, page_, fz_post_scale(matrix_, s, s), pixels, rule_ == InkRule::any_paint, &cookie_);
    if (!map) {
      failed_ = true;
      return std::nullopt;
    }
    auto const found = inked(*map, rule_, noisy_, scale);
    fz_drop_pixmap(ctx_, map);
    return found ? intersection(*found, strip) : std::nullopt;
  }
  bool failed() const { return failed_; }

 private:
  fz_context* ctx_;
  pdf_page* page_;
  fz_matrix matrix_;
  SeenRect limit_;
  InkRule rule_;
  bool noisy_;
  fz_cookie& cookie_;
  bool failed_ = false;
};

double& side(SeenRect& b, unsigned s) { return s == kLeft ? b.x0 : s == kBottom ? b.y0 : s == kRight ? b.x1 : b.y1; }

}  // namespace

DecidedInk decide_sides(fz_context* ctx, pdf_page* page, fz_matrix matrix, InkLedger const& ledger, SeenRect const& limit, InkRule rule, bool noisy,
                        fz_cookie& cookie) {
  DecidedInk result;
  result.ink = ledger.hull();
  if (!result.ink) return result;
  SeenRect const hull = *result.ink;
  double strips = 0;
  bool whole = false;
  for (unsigned s = 0; s < 4; ++s) {
    if (ledger.is_sure(s)) continue;
    ++result.sides;
    auto const sure = ledger.sure(s);
    whole = whole || !sure;
    if (sure) strips += std::fabs(side_of(hull, s) - *sure) * (s % 2 == 0 ? hull.height() : hull.width());
  }
  if (result.sides == 0) return result;
  Decider decider(ctx, page, matrix, limit, rule, noisy, cookie);
  whole = whole || strips > 0.6 * hull.area();
  auto const seen = whole ? decider.look(hull) : std::nullopt;
  SeenRect decided = hull;
  bool any = seen.has_value();
  for (unsigned s = 0; s < 4; ++s) {
    auto const sure = ledger.sure(s);
    any = any || sure;
    if (ledger.is_sure(s)) continue;
    std::optional<SeenRect> found = seen;
    if (!whole) {
      SeenRect strip = hull;
      side(strip, (s + 2) % 4) = *sure;
      found = decider.look(strip);
    }
    if (decider.failed()) {
      result.drawn = false;
      return result;
    }
    if (!found && !sure) continue;
    double const at = found ? side_of(*found, s) : *sure;
    bool const marks_reach_farther = sure && (s < 2 ? *sure < at : *sure > at);
    side(decided, s) = marks_reach_farther ? *sure : at;
  }
  if (any) result.ink = decided;
  else result.ink.reset();
  return result;
}

}  // namespace layright
