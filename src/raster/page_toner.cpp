// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_toner.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "mupdf/tried.h"
#include "raster/page_separations.h"
#include "raster/paper.h"

namespace layright {
namespace {

/// Without pixels where the library fails.
CanvasFrame frame_of(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, double dpi) {
  CanvasFrame frame{};
  fz_try(c) frame = canvas_frame(c, page, seen, dpi, 0);
  fz_catch(c) frame = {};
  return frame;
}

/// Null where the library fails.
fz_pixmap* in_inks(fz_context* c, fz_page* page, CanvasFrame const& frame) {
  return tried<fz_pixmap*>(c, nullptr, [&] { return draw_separations(c, page, frame); });
}

/// What the inks of the process make of a separation at full strength. Nothing where the library fails.
std::array<float, 4> in_process(fz_context* c, fz_separations* separations, int number) {
  std::array<float, 4> inks{};
  fz_try(c) fz_separation_equivalent(c, separations, number, fz_device_cmyk(c), inks.data(), nullptr, fz_default_color_params);
  fz_catch(c) inks = {};
  return inks;
}

/// Leaves separations that have a toner of their own; the others go to the process, tint by tint.
void convert(fz_context* c, fz_pixmap* pixels, std::vector<std::string> const& own, std::vector<InkCoverage>& inks) {
  for (int i = static_cast<int>(inks.size()) - 1; i >= 4; --i) {
    auto const at = inks.begin() + i;
    if (std::ranges::find(own, at->name) != own.end()) continue;
    auto const stand_in = in_process(c, pixels->seps, i - 4);
    for (std::size_t k = 0; k < 4; ++k) inks[k].coverage_pct += at->coverage_pct * static_cast<double>(stand_in[k]);
    inks.erase(at);
  }
}

/// Colours on nothing. Null where the library fails.
fz_pixmap* on_nothing(fz_context* c, fz_page* page, CanvasFrame const& frame) {
  fz_pixmap* pixels = nullptr;
  fz_var(pixels);
  fz_try(c) {
    pixels = fz_new_pixmap_with_bbox(c, fz_device_rgb(c), fz_make_irect(0, 0, frame.width, frame.height), nullptr, 1);
    fz_clear_pixmap(c, pixels);
    draw_on_canvas(c, page, frame, pixels);
  }
  fz_catch(c) {
    fz_drop_pixmap(c, pixels);
    pixels = nullptr;
  }
  return pixels;
}

void add_painted(fz_pixmap const& pixels, double area, bool noisy, PageToner& toner) {
  double painted = 0, white = 0;
  for (int y = 0; y < pixels.h; ++y) {
    unsigned char const* p = pixels.samples + y * pixels.stride;
    for (int x = 0; x < pixels.w; ++x, p += 4) {
      if (p[3] == 0) continue;
      float const alpha = p[3];
      painted += alpha;
      Rgb const colour{static_cast<float>(p[0]) / alpha, static_cast<float>(p[1]) / alpha, static_cast<float>(p[2]) / alpha};
      if (noisy ? is_paper_white(colour) : tint_of(colour) < kLeastTint) white += alpha;
    }
  }
  toner.painted_pct = std::min(100.0, painted / 2.55 / area);
  toner.paper_white_pct = std::min(100.0, white / 2.55 / area);
}

}  // namespace

std::optional<PageToner> read_toner(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, std::vector<std::string> const& own, bool noisy) {
  if (!seen.finite() || !(seen.area() > 0)) return std::nullopt;
  double const dpi = inks_dpi(seen);
  double const area = seen.area() * dpi * dpi / (72 * 72);  // in pixels; the last row and column may be parts of one
  CanvasFrame const frame = frame_of(c, page, seen, dpi);
  fz_pixmap* const drawn = frame.width > 0 ? in_inks(c, page, frame) : nullptr;
  if (!drawn) return std::nullopt;
  PageToner toner;
  for (auto& name : plane_names(c, drawn)) toner.inks.push_back({std::move(name), 0});
  for (int y = 0; y < drawn->h; ++y) {
    unsigned char const* p = drawn->samples + y * drawn->stride;
    for (int x = 0; x < drawn->w; ++x)
      for (auto& ink : toner.inks) ink.coverage_pct += *p++;
  }
  convert(c, drawn, own, toner.inks);
  fz_drop_pixmap(c, drawn);
  for (auto& ink : toner.inks) ink.coverage_pct = std::min(100.0, ink.coverage_pct / 2.55 / area);
  fz_pixmap* const painted = on_nothing(c, page, frame);
  if (!painted) return std::nullopt;
  add_painted(*painted, area, noisy, toner);
  fz_drop_pixmap(c, painted);
  return toner;
}

}  // namespace layright
