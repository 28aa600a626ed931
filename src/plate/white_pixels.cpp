#include "plate/white_pixels.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "plate/disc.h"
#include "plate/soft_disc.h"
#include "raster/paper.h"

namespace layright {
namespace {

constexpr double kBlackLightness = 20;           // L*: our own; the darkest that a screen still shows as a color
constexpr std::array<double, 2> kFinerBy{2, 4};  // the pull-in of lines too fine for all of it, and of those too fine for half
constexpr double kBroad = 2;                     // pull-ins: half of what white beside a color is wide at least that is no rim of it
constexpr double kOutOfReach = 2;                // pull-ins: ink so far from any white has none. A corner is nearer

/// Relative luminance of a lightness L* (ISO/CIE 11664-4, equation 1, from memory).
float luminance_of(double lightness) {
  double const f = (lightness + 16) / 116;
  return static_cast<float>(lightness > 8 ? f * f * f : lightness * 27 / 24389);
}

void keep(BitPicture& picture, BitPicture const& only, bool where_set = true) {
  auto to = picture.words();
  for (std::size_t i = 0; i < to.size(); ++i) to[i] &= where_set ? only.words()[i] : ~only.words()[i];
}
void add(BitPicture& picture, BitPicture const& more) {
  auto to = picture.words();
  for (std::size_t i = 0; i < to.size(); ++i) to[i] |= more.words()[i];
}

std::vector<std::uint8_t> eroded(std::vector<std::uint8_t> const& alpha, int width, double radius) {
  std::vector<std::uint8_t> made;
  made.reserve(alpha.size());
  SoftDisc disc(width, radius, [&](std::span<std::uint8_t const> row) { made.insert(made.end(), row.begin(), row.end()); });
  for (std::size_t at = 0; at < alpha.size(); at += static_cast<std::size_t>(width))
    disc.row(std::span(alpha).subspan(at, static_cast<std::size_t>(width)));
  disc.finish();
  return made;
}

void copy_where(BitPicture const& where, std::vector<std::uint8_t> const& from, std::vector<std::uint8_t>& to) {
  for (int y = 0; y < where.height; ++y)
    for (int x = 0; auto word : where.row(y)) {
      for (int bit = 0; word != 0; word >>= 1, ++bit)
        if (word & 1) {
          auto const at = static_cast<std::size_t>(y) * static_cast<std::size_t>(where.width) + static_cast<std::size_t>(x + bit);
          to[at] = std::max(to[at], from[at]);
        }
      x += 64;
    }
}

}  // namespace

ColorChoice::ColorChoice(PlateOptions const& options)
    : options_(options), light_from_(luminance_of(options.light_pct)), black_to_(luminance_of(kBlackLightness)) {
  for (int i = 0; i < 256; ++i) {
    double const v = i / 255.0;
    linear_.push_back(static_cast<float>(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4)));
  }
}

bool ColorChoice::chosen(unsigned char const* p) const {
  int const alpha = p[3];
  auto const plain = [&](unsigned char v) { return alpha == 255 ? v : static_cast<unsigned char>(std::min(255, (v * 255 + alpha / 2) / alpha)); };
  std::array<unsigned char, 3> const color{plain(p[0]), plain(p[1]), plain(p[2])};
  if (*std::ranges::min_element(color) >= (1 - kLeastTint) * 255) return true;  // white of its own
  Rgb const linear{linear_[color[0]], linear_[color[1]], linear_[color[2]]};
  if (options_.none_under_black && luminance(linear) <= black_to_) return false;
  switch (options_.from) {
    case PlateFrom::off:
    case PlateFrom::own: return false;
    case PlateFrom::all: return true;
    case PlateFrom::light: return luminance(linear) >= light_from_;
    case PlateFrom::solid: return alpha == 255;
  }
  return false;
}

void ColorChoice::judge(unsigned char const* p, int width, std::span<std::uint64_t> ink, std::span<std::uint64_t> chosen_bits) const {
  bool const all = !needs_color();
  constexpr int kRun = 16;
  static constexpr std::array<unsigned char, std::size_t{kRun} * 4> kClear{};
  for (int x = 0; x < width;) {
    int const end = std::min(width, x + kRun);
    if (end - x == kRun && std::equal(kClear.begin(), kClear.end(), p)) {
      p += kClear.size();
      x = end;
      continue;
    }
    for (; x < end; ++x, p += 4) {
      if (p[3] < 128) continue;
      auto const bit = std::uint64_t{1} << (static_cast<unsigned>(x) % 64);
      ink[static_cast<std::size_t>(x) / 64] |= bit;
      if (all || chosen(p)) chosen_bits[static_cast<std::size_t>(x) / 64] |= bit;
    }
  }
}

bool ColorChoice::needs_color() const { return options_.from != PlateFrom::all || options_.none_under_black; }

void ink_of(unsigned char const* pixels, int width, std::span<std::uint64_t> ink) {
  for (std::size_t word = 0; word < ink.size(); ++word) {
    int const first = static_cast<int>(word) * 64, count = std::min(64, width - first);
    auto const* const p = pixels + 2 * static_cast<std::ptrdiff_t>(first) + 1;
    std::uint64_t bits = 0;
    for (int x = 0; x < count; ++x) bits |= static_cast<std::uint64_t>(p[2 * x] >> 7) << x;
    ink[word] = bits;
  }
}

int plate_reach(double pull_in) { return static_cast<int>(std::ceil((1 + kOutOfReach) * pull_in)) + 1; }

int own_reach(double pull_in) { return static_cast<int>(std::ceil((2.5 * kBroad + 1) * pull_in)) + 1; }

BitPicture own_rim(BitPicture const& own, BitPicture const& color, double pull_in) {
  auto broad = own;  // what is meant to be seen
  keep(broad, color, false);
  // Widened by half as much again, so that its corners come back.
  broad = through_disc(DiscKind::widen, through_disc(DiscKind::erode, broad, kBroad * pull_in), 1.5 * kBroad * pull_in);
  keep(broad, own);
  keep(broad, color, false);
  auto covered = color;
  add(covered, broad);
  auto rim = own;
  keep(rim, broad, false);
  keep(rim, through_disc(DiscKind::erode, covered, pull_in / 2), false);
  keep(rim, through_disc(DiscKind::widen, color, pull_in));
  return rim;
}

WhiteBand white_of(InkBand const& band, PlateOptions const& options, double pull_in) {
  BitPicture const nothing(band.ink.width, band.ink.height);
  WhiteBand made{through_disc(DiscKind::erode, band.ink, pull_in), nothing, nothing, {}};
  if (!band.alpha.empty()) made.amount = eroded(band.alpha, band.ink.width, pull_in);
  if (options.thin == ThinLines::keep && pull_in > 0) {
    auto covered = through_disc(DiscKind::widen, made.white, pull_in);
    BitPicture half = nothing;
    for (double const by : kFinerBy) {
      auto core = through_disc(DiscKind::erode, band.ink, pull_in / by);
      auto const reached = through_disc(DiscKind::widen, core, pull_in / by);
      if (by == kFinerBy.front()) half = core;
      keep(core, covered, false);
      add(made.white, core);
      if (!band.alpha.empty()) copy_where(core, eroded(band.alpha, band.ink.width, pull_in / by), made.amount);
      covered = reached;
    }
    made.rim = made.white;
    keep(made.rim, half, false);
    keep(made.rim, band.chosen);
  }
  made.bare = band.ink;
  keep(made.bare, through_disc(DiscKind::widen, made.white, kOutOfReach * pull_in), false);
  keep(made.bare, band.chosen);
  keep(made.white, band.chosen);
  if (!made.amount.empty()) {
    std::vector<std::uint8_t> only(made.amount.size());
    // Where half of full alpha is not reached there is no color to choose by: all of it counts.
    auto faint = band.ink;
    for (auto& word : faint.words()) word = ~word;
    copy_where(band.chosen, made.amount, only);
    for (int y = 0; y < faint.height; ++y) trim(faint.row(y), faint.width);
    copy_where(faint, made.amount, only);
    made.amount = std::move(only);
  }
  return made;
}

}  // namespace layright
