#include "plate/page_plate.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <ctime>
#include <functional>
#include <new>

#include "plate/white_pixels.h"
#include "raster/blobs.h"
#include "raster/page_bands.h"

namespace layright {
namespace {

// Pixels of a drawing. Small bands draw long paths again and again, large ones take memory, with that of groups several times; and memory of
// more than 32 MB the C library takes from the system anew each time.
constexpr double kLeastBandPixels = 8e6, kMostBandPixels = 16e6;
constexpr int kUsualBands = 16;
constexpr double kMostPagePixels = 2e9;  // width times height of the page: the library counts in 32 bits
constexpr double kPatchDpi = 36;         // at which places without white are gathered
constexpr std::size_t kMostRuns = 200000;
constexpr int kProcessInks = 4, kLeastColor = 26;  // planes before the spot colors; of 255, a tenth, which a press shows
constexpr double kNoise = 1e-3;                    // pixels: the library rounds a page's size so

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Whole pixels around `area`, inside the page; y down from the page's top.
fz_irect pixels_around(Rect<SeenSpace> const& seen, Rect<SeenSpace> const& area, double k) {
  int const across = static_cast<int>(std::ceil(seen.width() * k - kNoise)), down = static_cast<int>(std::ceil(seen.height() * k - kNoise));
  auto const inside = [](double v, int most) { return static_cast<int>(std::clamp(v, 0.0, static_cast<double>(most))); };
  return {inside(std::floor((area.x0 - seen.x0) * k), across), inside(std::floor((seen.y1 - area.y1) * k), down),
          inside(std::ceil((area.x1 - seen.x0) * k), across), inside(std::ceil((seen.y1 - area.y0) * k), down)};
}

long count(BitSpan words) {
  long all = 0;
  for (auto const word : words) all += std::popcount(word);
  return all;
}

/// Pixels of one kind, gathered coarsely while the bands go by.
class Patches {
 public:
  Patches(int width, int height, double dpi) : by_(std::max(1, static_cast<int>(dpi / kPatchDpi))) {
    map_.width = width / by_ + 1;
    map_.height = height / by_ + 1;
    map_.pixels.resize(static_cast<std::size_t>(map_.width) * static_cast<std::size_t>(map_.height));
  }
  void add(BitSpan row, int y) {
    long const pixels = count(row);
    if (pixels == 0) return;
    pixels_ += pixels;
    for (int x = 0; auto word : row) {
      for (int at = x; word != 0; word >>= 1, ++at)
        if (word & 1)
          map_.pixels[static_cast<std::size_t>(y / by_) * static_cast<std::size_t>(map_.width) + static_cast<std::size_t>(at / by_)] = 255;
      x += 64;
    }
  }
  long pixels() const { return pixels_; }
  /// `k`: points a pixel; from the upper left corner of the pixels.
  Places places(double left, double top, double k) const {
    Places found;
    if (pixels_ == 0) return found;
    auto map = find_blobs(map_, 127, kMostRuns);
    std::erase_if(map.blobs, [](Blob const& b) { return !b.light; });
    std::ranges::sort(map.blobs, std::greater{}, &Blob::area);
    double const cell = k * by_;
    for (Blob const& b : map.blobs) found.add({left + b.x0 * cell, top - b.y1 * cell, left + b.x1 * cell, top - b.y0 * cell});
    return found;
  }

 private:
  int by_;
  long pixels_ = 0;
  GreyPicture map_;
};

class Plate {
 public:
  Plate(PlateWanted const& wanted, Rect<SeenSpace> const& seen, fz_irect pixels)
      : wanted_(wanted),
        seen_(seen),
        pixels_(pixels),
        bare_(width(), height(), wanted.dpi),
        rim_(width(), height(), wanted.dpi),
        own_rim_(width(), height(), wanted.dpi),
        choice_(wanted.options),
        hard_(width(), height()) {
    if (soft()) soft_.emplace(width());
  }
  int width() const { return pixels_.x1 - pixels_.x0; }
  int height() const { return pixels_.y1 - pixels_.y0; }
  bool needs_color() const { return choice_.needs_color(); }
  bool soft() const { return wanted_.options.fade == SoftEdges::grey; }

  /// Rows `top` to `bottom` of the plate, from a drawing that reaches further or to the end of the page; in colors if they are needed.
  void add(fz_pixmap const& drawn, int top, int bottom) {
    int const first = drawn.y + PageBands::kAround - pixels_.y0;
    InkBand band(width(), drawn.h - 2 * PageBands::kAround);
    if (soft()) band.alpha.resize(static_cast<std::size_t>(band.ink.width) * static_cast<std::size_t>(band.ink.height));
    for (int y = 0; y < band.ink.height; ++y) {
      auto const* const p =
          drawn.samples + static_cast<std::ptrdiff_t>(y + PageBands::kAround) * drawn.stride + std::ptrdiff_t{PageBands::kAround} * drawn.n;
      if (needs_color()) {
        choice_.judge(p, width(), band.ink.row(y), band.chosen.row(y));
      } else {
        ink_of(p, width(), band.ink.row(y));
        std::ranges::copy(band.ink.row(y), band.chosen.row(y).begin());
      }
      if (!soft()) continue;
      auto* const alpha = band.alpha.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(width());
      for (int x = 0; x < width(); ++x) alpha[x] = p[drawn.n * x + drawn.n - 1];
    }
    auto const made = white_of(band, wanted_.options, pull_in());
    for (int y = top; y < bottom; ++y) {
      ink_ += count(band.ink.row(y - first));
      wanted_pixels_ += count(band.chosen.row(y - first));
      bare_.add(made.bare.row(y - first), y);
      rim_.add(made.rim.row(y - first), y);
      if (soft())
        soft_->add(std::span(made.amount)
                       .subspan(static_cast<std::size_t>(y - first) * static_cast<std::size_t>(width()), static_cast<std::size_t>(width())));
      else hard_.add(made.white.row(y - first));
    }
  }
  /// The same of the art's own white, from a drawing in inks; `plane` is its ink's.
  void add_own(fz_pixmap const& drawn, int plane, int top, int bottom) {
    int const first = drawn.y + PageBands::kAround - pixels_.y0;
    BitPicture own(width(), drawn.h - 2 * PageBands::kAround), color(own.width, own.height);
    for (int y = 0; y < own.height; ++y) {
      auto const* p =
          drawn.samples + static_cast<std::ptrdiff_t>(y + PageBands::kAround) * drawn.stride + std::ptrdiff_t{PageBands::kAround} * drawn.n;
      for (int x = 0; x < own.width; ++x, p += drawn.n) {
        auto const bit = std::uint64_t{1} << (static_cast<unsigned>(x) % 64);
        auto const word = static_cast<std::size_t>(x) / 64;
        int others = 0;
        for (int i = 0; i < drawn.n; ++i) others += i == plane ? 0 : p[i];
        if (p[plane] >= 128) own.row(y)[word] |= bit;
        if (others >= kLeastColor) color.row(y)[word] |= bit;
      }
    }
    auto const rim = own_rim(own, color, pull_in());
    for (int y = top; y < bottom; ++y) own_rim_.add(rim.row(y - first), y);
  }
  double pull_in() const { return wanted_.options.pull_in.in_points() * wanted_.dpi / 72; }

  PagePlate finish(fz_context* c) {
    double const printed = 72 / wanted_.dpi, square = printed * printed;
    double const k = printed / wanted_.scale, left = seen_.x0 + pixels_.x0 * k, top = seen_.y1 - pixels_.y0 * k;
    PagePlate plate;
    plate.notes = {wanted_.dpi,
                   static_cast<double>(ink_) * square,
                   static_cast<double>(wanted_pixels_) * square,
                   (soft() ? soft_->white() : static_cast<double>(hard_.white())) * square,
                   static_cast<double>(bare_.pixels()) * square,
                   static_cast<double>(rim_.pixels()) * square,
                   static_cast<double>(own_rim_.pixels()) * square,
                   bare_.places(left, top, k),
                   rim_.places(left, top, k),
                   own_rim_.places(left, top, k)};
    plate.picture = soft() ? soft_->finish() : hard_.finish(c);
    auto const& p = plate.picture;
    plate.where = {left + p.x0 * k, top - (p.y0 + p.height) * k, left + (p.x0 + p.width) * k, top - p.y0 * k};
    return plate;
  }

 private:
  PlateWanted const& wanted_;
  Rect<SeenSpace> seen_;
  fz_irect pixels_;
  Patches bare_, rim_, own_rim_;
  ColorChoice choice_;
  BitPlatePacker hard_;
  std::optional<SoftPlatePacker> soft_;
  long ink_ = 0, wanted_pixels_ = 0;
};

/// Of the ink of that name in drawings of the page's inks; -1 where the page names it nowhere.
int plane_of(fz_context* c, fz_page* page, std::string const& ink) {
  if (ink.empty()) return -1;
  fz_separations* inks = nullptr;
  int found = -1;
  fz_var(inks);
  fz_var(found);
  fz_try(c) {
    inks = fz_page_separations(c, page);
    for (int i = 0; inks != nullptr && i < fz_count_separations(c, inks); ++i) {
      char const* const name = fz_separation_name(c, inks, i);
      if (name != nullptr && ink == name) found = kProcessInks + i;
    }
  }
  fz_always(c) fz_drop_separations(c, inks);
  fz_catch(c) found = -1;
  return found;
}

std::optional<PagePlate> make(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, Rect<SeenSpace> const& area, PlateWanted const& wanted,
                              NoPlate& why) {
  double const begun = processor_seconds(), k = wanted.dpi * wanted.scale / 72;
  why = NoPlate::failed;
  if (!seen.finite() || !(seen.area() > 0) || !(wanted.dpi > 0) || seen.area() * k * k > kMostPagePixels) return std::nullopt;
  auto const pixels = pixels_around(seen, area, k);
  if (pixels.x1 <= pixels.x0 || pixels.y1 <= pixels.y0) return PagePlate{};
  fz_rect box{};
  fz_try(c) box = fz_bound_page(c, page);  // y down
  fz_catch(c) return std::nullopt;
  fz_matrix const ctm = fz_concat(fz_translate(-box.x0, -box.y0), fz_scale(static_cast<float>(k), static_cast<float>(k)));
  PageBands bands(c, page);
  if (!bands.good()) return std::nullopt;
  Plate plate(wanted, seen, pixels);
  int const own = plane_of(c, page, wanted.own_ink);
  int const reach = own < 0 ? plate_reach(plate.pull_in()) : std::max(plate_reach(plate.pull_in()), own_reach(plate.pull_in()));
  double const band_pixels = std::clamp(1.0 * plate.width() * plate.height() / kUsualBands, kLeastBandPixels, kMostBandPixels);
  int const rows = std::max({16, 2 * reach, static_cast<int>(band_pixels / plate.width())});
  for (int top = 0; top < plate.height(); top += rows) {
    if (wanted.seconds > 0 && processor_seconds() - begun > wanted.seconds) {
      why = NoPlate::out_of_time;
      return std::nullopt;
    }
    int const bottom = std::min(plate.height(), top + rows);
    fz_irect const band{pixels.x0, pixels.y0 + std::max(0, top - reach), pixels.x1, pixels.y0 + std::min(plate.height(), bottom + reach)};
    fz_pixmap* const drawn = plate.needs_color() ? bands.draw(ctm, band, BandGround::clear) : bands.draw_cover(ctm, band);
    if (!drawn) return std::nullopt;
    plate.add(*drawn, top, bottom);
    fz_drop_pixmap(c, drawn);
    if (own < 0) continue;
    fz_pixmap* const in_inks = bands.draw_inks(ctm, band);
    if (!in_inks) return std::nullopt;
    plate.add_own(*in_inks, own, top, bottom);
    fz_drop_pixmap(c, in_inks);
  }
  return plate.finish(c);
}

}  // namespace

std::optional<PagePlate> make_plate(fz_context* library, fz_page* page, Rect<SeenSpace> const& seen, Rect<SeenSpace> const& area,
                                    PlateWanted const& wanted, NoPlate& why) {
  try {
    return make(library, page, seen, area, wanted, why);
  } catch (std::bad_alloc const&) {
    why = NoPlate::out_of_memory;
    return std::nullopt;
  }
}

}  // namespace layright
