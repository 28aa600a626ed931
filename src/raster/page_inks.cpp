// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_inks.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "raster/blobs.h"
#include "raster/page_separations.h"

namespace layright {
namespace {

constexpr std::size_t kMostRuns = 200000;  // of places over the limit; a page so torn has no places that anybody could go to

void find_places(GreyPicture const& over, CanvasFrame const& frame, double dpi, Places& places) {
  auto map = find_blobs(over, 127, kMostRuns);
  std::erase_if(map.blobs, [](Blob const& b) { return !b.light; });
  std::ranges::sort(map.blobs, std::greater{}, &Blob::area);
  double const k = 72 / dpi;
  for (Blob const& b : map.blobs)
    places.add({frame.area.x0 + b.x0 * k, frame.area.y1 - b.y1 * k, frame.area.x0 + b.x1 * k, frame.area.y1 - b.y0 * k});
}

/// What is left of the marked pixels where squares of kLeastBare pixels fit; beyond the picture's edge all are taken as marked.
GreyPicture opened(GreyPicture const& marked) {
  constexpr int kReach = kLeastBare / 2;
  GreyPicture out{marked.width, marked.height, std::vector<std::uint8_t>(marked.pixels.size())};
  auto const around = [&](int x, int y, auto const& each) {
    for (int j = std::max(0, y - kReach); j <= std::min(marked.height - 1, y + kReach); ++j)
      for (int i = std::max(0, x - kReach); i <= std::min(marked.width - 1, x + kReach); ++i)
        each(static_cast<std::size_t>(j) * static_cast<std::size_t>(marked.width) + static_cast<std::size_t>(i));
  };
  for (int y = 0; y < marked.height; ++y) {
    for (int x = 0; x < marked.width; ++x) {
      if (marked.at(x, y) == 0) continue;
      bool whole = true;
      around(x, y, [&](std::size_t at) { whole = whole && marked.pixels[at] != 0; });
      if (whole) around(x, y, [&](std::size_t at) { out.pixels[at] = 255; });
    }
  }
  return out;
}

/// The planes that are white, and where other inks lie without enough of them. The first four planes are those of the process.
void find_bare(fz_pixmap const& pixels, std::vector<int> const& white, double white_pct, CanvasFrame const& frame, double dpi, PageInks& inks) {
  GreyPicture bare{pixels.w, pixels.h, {}};
  bare.pixels.resize(static_cast<std::size_t>(pixels.w) * static_cast<std::size_t>(pixels.h));
  long inked = 0;
  std::size_t at = 0;
  for (int y = 0; y < pixels.h; ++y) {
    unsigned char const* p = pixels.samples + y * pixels.stride;
    for (int x = 0; x < pixels.w; ++x, p += pixels.n, ++at) {
      int all = 0, of_white = 0, most_white = 0;
      for (int i = 0; i < pixels.n; ++i) all += p[i];
      for (int const i : white) {
        of_white += p[i];
        most_white = std::max<int>(most_white, p[i]);
      }
      if (all - of_white < kLeastInk * 2.55) continue;
      ++inked;
      if (most_white + 0.5 < white_pct * 2.55) bare.pixels[at] = 255;
    }
  }
  bare = opened(bare);
  auto const count = std::ranges::count(bare.pixels, 255);
  if (count == 0) return;
  inks.bare_pct = 100 * static_cast<double>(count) / static_cast<double>(inked);
  find_places(bare, frame, dpi, inks.bare);
}

/// Null where the library fails.
fz_pixmap* drawn_in_inks(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, double dpi, CanvasFrame& frame) {
  fz_pixmap* pixels = nullptr;
  fz_var(pixels);
  fz_try(c) {
    frame = canvas_frame(c, page, seen, dpi, 0);
    pixels = draw_separations(c, page, frame);
  }
  fz_catch(c) pixels = nullptr;
  return pixels;
}

}  // namespace

double inks_dpi(Rect<SeenSpace> const& seen) {
  auto const of_pixels = [&](double pixels) { return 72 * std::sqrt(pixels / seen.area()); };
  return std::min(std::clamp(of_pixels(kLeastInkPixels), kInksDpi, kFinestInksDpi), of_pixels(kMostInkPixels));
}

std::optional<PageInks> read_inks(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, InksWanted const& wanted) {
  if (!seen.finite() || !(seen.area() > 0)) return std::nullopt;
  double const dpi = inks_dpi(seen);
  CanvasFrame frame{};
  fz_pixmap* const pixels = drawn_in_inks(c, page, seen, dpi, frame);
  if (!pixels) return std::nullopt;
  PageInks inks;
  int const planes = pixels->n;
  std::vector<int> white;
  for (int i = 0; auto& name : plane_names(c, pixels)) {
    inks.inks.push_back({std::move(name), 0});
    if (i >= 4 && std::ranges::find(wanted.white, inks.inks.back().name) != wanted.white.end()) white.push_back(i);
    ++i;
  }
  std::vector<double> sums(static_cast<std::size_t>(planes));
  GreyPicture over{pixels->w, pixels->h, {}};
  over.pixels.resize(static_cast<std::size_t>(pixels->w) * static_cast<std::size_t>(pixels->h));
  long most = 0, passing = 0;
  double const limit = wanted.total_pct * 2.55;
  for (int y = 0; y < pixels->h; ++y) {
    unsigned char const* p = pixels->samples + y * pixels->stride;
    for (int x = 0; x < pixels->w; ++x, p += planes) {
      long total = 0;
      for (int i = 0; i < planes; ++i) {
        total += p[i];
        sums[static_cast<std::size_t>(i)] += p[i];
      }
      most = std::max(most, total);
      if (static_cast<double>(total) <= limit + 0.5) continue;
      ++passing;
      over.pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(pixels->w) + static_cast<std::size_t>(x)] = 255;
    }
  }
  double const area = seen.area() * dpi * dpi / (72 * 72);  // in pixels; the last row and column may be parts of one
  for (std::size_t i = 0; i < sums.size(); ++i) inks.inks[i].coverage_pct = std::min(100.0, sums[i] / 2.55 / area);
  inks.total_max_pct = static_cast<double>(most) / 2.55;
  inks.over_pct = std::min(100.0, 100 * static_cast<double>(passing) / area);
  if (passing > 0) find_places(over, frame, dpi, inks.over);
  std::erase_if(white, [&](int i) { return sums[static_cast<std::size_t>(i)] == 0; });  // named in the file, and used elsewhere or not at all
  for (int const i : white) inks.white_plates.push_back(inks.inks[static_cast<std::size_t>(i)].name);
  if (!white.empty()) find_bare(*pixels, white, wanted.white_pct, frame, dpi, inks);
  fz_drop_pixmap(c, pixels);
  return inks;
}

}  // namespace layright
