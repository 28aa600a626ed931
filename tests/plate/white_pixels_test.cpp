#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <vector>

#include "plate/white_pixels.h"

using namespace layright;

namespace {

constexpr int kWidth = 200, kHeight = 60;

void fill(BitPicture& picture, int x0, int y0, int x1, int y1) {
  for (int y = y0; y < y1; ++y)
    for (int x = x0; x < x1; ++x) picture.row(y)[static_cast<std::size_t>(x) / 64] |= std::uint64_t{1} << (static_cast<unsigned>(x) % 64);
}
long count(BitPicture const& picture) {
  long all = 0;
  for (auto const word : picture.words()) all += std::popcount(word);
  return all;
}
InkBand all_chosen(std::vector<std::vector<int>> const& boxes) {
  InkBand band(kWidth, kHeight);
  for (auto const& b : boxes) {
    fill(band.ink, b[0], b[1], b[2], b[3]);
    fill(band.chosen, b[0], b[1], b[2], b[3]);
  }
  return band;
}

struct Judged {
  bool ink, chosen;
};
Judged judged(PlateOptions const& options, std::vector<unsigned char> const& pixel) {
  std::uint64_t ink = 0, chosen = 0;
  ColorChoice(options).judge(pixel.data(), 1, {&ink, 1}, {&chosen, 1});
  return {ink != 0, chosen != 0};
}

}  // namespace

TEST_CASE("white stays inside the ink by the pull-in") {
  auto const band = all_chosen({{20, 10, 120, 50}});
  auto const made = white_of(band, {.from = PlateFrom::all}, 4);
  // The nearest pixel without ink lies one outside the edge; up to four away there is no white.
  CHECK(count(made.white) == (100 - 2 * 4) * (40 - 2 * 4));
  CHECK(count(made.bare) == 0);
  CHECK(count(made.rim) == 0);
}

TEST_CASE("lines too fine for the pull-in keep a core, or get none") {
  int const wide = GENERATE(5, 6, 8, 9);  // pixels; the pull-in is 4
  auto const band = all_chosen({{20, 20, 180, 20 + wide}});
  auto const kept = white_of(band, {.from = PlateFrom::all, .thin = ThinLines::keep}, 4);
  auto const bare = white_of(band, {.from = PlateFrom::all, .thin = ThinLines::bare}, 4);
  CHECK(count(kept.white) > 0);
  CHECK(count(kept.bare) == 0);
  if (wide <= 8) {
    CHECK(count(bare.white) == 0);
    CHECK(count(bare.bare) == count(band.ink));
  } else {
    CHECK(count(bare.white) == 160 - 2 * 4);
    CHECK(count(bare.bare) == 0);
  }
  CHECK((count(kept.rim) > 0) == (wide < 5));  // by a half they fit all, so no white lies nearer to the edge
}

TEST_CASE("a line that even a quarter of the pull-in leaves nothing of is reported") {
  auto const band = all_chosen({{20, 20, 180, 22}});
  auto const made = white_of(band, {.from = PlateFrom::all, .thin = ThinLines::keep}, 4);
  CHECK(count(made.white) == 0);
  CHECK(count(made.bare) == count(band.ink));
}

TEST_CASE("white is laid where the options choose, and pulled in from bare ground only") {
  InkBand band(kWidth, kHeight);
  fill(band.ink, 20, 10, 120, 50);
  fill(band.chosen, 20, 10, 70, 50);  // the left half
  auto const made = white_of(band, {.from = PlateFrom::light}, 4);
  CHECK(count(made.white) == (50 - 4) * (40 - 2 * 4));
}

TEST_CASE("soft edges get as much white as there is ink") {
  auto band = all_chosen({{20, 10, 120, 50}});
  band.alpha.assign(std::size_t{kWidth} * kHeight, 0);
  for (int y = 10; y < 50; ++y)
    for (int x = 20; x < 120; ++x) band.alpha[static_cast<std::size_t>(y * kWidth + x)] = 200;
  auto const made = white_of(band, {.from = PlateFrom::all, .fade = SoftEdges::grey}, 4);
  CHECK(made.amount[static_cast<std::size_t>(30 * kWidth + 70)] == 200);
  CHECK(made.amount[static_cast<std::size_t>(30 * kWidth + 22)] == 0);
  CHECK(made.amount[static_cast<std::size_t>(30 * kWidth + 24)] == 200);
}

TEST_CASE("pixels are ink from half of full alpha on, and chosen by their color") {
  PlateOptions all{.from = PlateFrom::all}, light{.from = PlateFrom::light}, solid{.from = PlateFrom::solid}, own{.from = PlateFrom::own};
  CHECK_FALSE(judged(all, {50, 0, 0, 127}).ink);
  CHECK(judged(all, {50, 0, 0, 128}).ink);
  CHECK(judged(all, {50, 0, 0, 128}).chosen);
  CHECK(judged(light, {255, 220, 0, 255}).chosen);      // yellow
  CHECK_FALSE(judged(light, {0, 0, 120, 255}).chosen);  // navy
  CHECK(judged(light, {128, 110, 0, 128}).chosen);      // yellow, half clear: colors come times alpha
  CHECK(judged(solid, {90, 0, 0, 255}).chosen);
  CHECK_FALSE(judged(solid, {90, 0, 0, 250}).chosen);
  CHECK(judged(own, {255, 255, 255, 255}).chosen);
  CHECK(judged(own, {200, 200, 200, 200}).chosen);
  CHECK_FALSE(judged(own, {250, 250, 230, 255}).chosen);
  all.none_under_black = true;
  CHECK_FALSE(judged(all, {20, 20, 20, 255}).chosen);
  CHECK(judged(all, {120, 0, 0, 255}).chosen);
  CHECK(judged(light, {255, 255, 255, 255}).chosen);  // the art's own white is part of each
}

TEST_CASE("white of the art's own is a rim at the edge of a color, and none where it is wide or well inside") {
  BitPicture color(kWidth, kHeight), inside(kWidth, kHeight), past(kWidth, kHeight), wide(kWidth, kHeight);
  fill(color, 20, 10, 80, 50);
  fill(inside, 24, 14, 76, 46);
  fill(past, 18, 8, 82, 52);
  fill(wide, 60, 14, 150, 46);
  CHECK(count(own_rim(inside, color, 4)) == 0);
  // Of its outermost pixels two lie past the color, and two within half the pull-in of its edge.
  CHECK(count(own_rim(past, color, 4)) == 64 * 44 - (60 - 4) * (40 - 4));
  CHECK(count(own_rim(wide, color, 4)) < 10);  // where it leaves the color, at two corners
}

TEST_CASE("ink is the same in grays and in colors") {
  constexpr int kRow = 131;
  std::vector<unsigned char> gray, colors;
  for (int x = 0; x < kRow; ++x) {
    auto const alpha = static_cast<unsigned char>(x * 57 % 256), tint = static_cast<unsigned char>(alpha / 3);
    gray.insert(gray.end(), {tint, alpha});
    colors.insert(colors.end(), {tint, tint, tint, alpha});
  }
  PlateOptions options;
  options.from = PlateFrom::all;
  ColorChoice const choice(options);
  CHECK_FALSE(choice.needs_color());
  BitPicture by_gray(kRow, 1), ink(kRow, 1), chosen(kRow, 1);
  ink_of(gray.data(), kRow, by_gray.row(0));
  choice.judge(colors.data(), kRow, ink.row(0), chosen.row(0));
  CHECK(std::ranges::equal(by_gray.words(), ink.words()));
  CHECK(std::ranges::equal(chosen.words(), ink.words()));
  CHECK_FALSE(is_empty(ink.row(0)));
  options.none_under_black = true;
  CHECK(ColorChoice(options).needs_color());
}
