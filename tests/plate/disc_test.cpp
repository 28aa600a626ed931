// The erosion and widening by a disc, against every pixel asking every other (the definition, in whole numbers).
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <vector>

#include "plate/disc.h"
#include "plate/soft_disc.h"

using namespace layright;

namespace {

bool at(BitPicture const& picture, int x, int y) {
  if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) return false;
  return (picture.row(y)[static_cast<std::size_t>(x) / 64] >> (static_cast<unsigned>(x) % 64) & 1) != 0;
}

void set(BitPicture& picture, int x, int y) {
  picture.row(y)[static_cast<std::size_t>(x) / 64] |= std::uint64_t{1} << (static_cast<unsigned>(x) % 64);
}

/// Pixels set so often out of 100; the same each time.
BitPicture noise(int width, int height, unsigned set_pct, unsigned seed) {
  BitPicture picture(width, height);
  unsigned state = seed * 2654435761U + 1;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      state = state * 1664525U + 1013904223U;
      if (state / 42949673U < set_pct) set(picture, x, y);
    }
  return picture;
}

bool by_definition(BitPicture const& picture, int x, int y, int square, DiscKind kind) {
  int const reach = static_cast<int>(std::sqrt(square));
  for (int dy = -reach; dy <= reach; ++dy)
    for (int dx = -reach; dx <= reach; ++dx) {
      if (dx * dx + dy * dy > square) continue;
      if (at(picture, x + dx, y + dy) == (kind == DiscKind::widen)) return kind == DiscKind::widen;
    }
  return kind == DiscKind::erode;
}

}  // namespace

TEST_CASE("a picture is eroded and widened by an exact disc") {
  auto const kind = GENERATE(DiscKind::erode, DiscKind::widen);
  int const width = GENERATE(1, 63, 64, 65, 131);
  int const square = GENERATE(0, 1, 2, 17, 69, 4900);  // of the radius
  auto const picture = noise(width, 45, kind == DiscKind::erode ? 97 : 3, static_cast<unsigned>(width + square));
  auto const made = through_disc(kind, picture, std::sqrt(square));
  long wrong = 0;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < width; ++x) wrong += at(made, x, y) != by_definition(picture, x, y, square, kind);
  CHECK(wrong == 0);
  for (int y = 0; y < made.height; ++y) {  // nothing beyond the width
    auto last = made.row(y).back();
    if (width % 64 != 0) last &= ~(~std::uint64_t{0} >> (64 - width % 64));
    else last = 0;
    CHECK(last == 0);
  }
}

TEST_CASE("a disc of no width leaves the picture as it is") {
  auto const picture = noise(100, 20, 50, 7);
  for (auto const kind : {DiscKind::erode, DiscKind::widen}) {
    auto const made = through_disc(kind, picture, 0);
    CHECK(std::ranges::equal(made.words(), picture.words()));
  }
}

TEST_CASE("soft pixels become the least within the disc") {
  int const width = 70, height = 30, square = GENERATE(0, 2, 17);
  std::vector<std::uint8_t> picture;
  unsigned state = 5;
  for (int i = 0; i < width * height; ++i) picture.push_back(static_cast<std::uint8_t>((state = state * 1664525U + 1013904223U) >> 24));
  std::vector<std::uint8_t> made;
  SoftDisc disc(width, std::sqrt(square), [&](auto row) { made.insert(made.end(), row.begin(), row.end()); });
  for (int y = 0; y < height; ++y) disc.row(std::span(picture).subspan(static_cast<std::size_t>(y * width), static_cast<std::size_t>(width)));
  disc.finish();
  REQUIRE(made.size() == picture.size());
  int const reach = static_cast<int>(std::sqrt(square));
  long wrong = 0;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      int least = 255;
      for (int dy = -reach; dy <= reach; ++dy)
        for (int dx = -reach; dx <= reach; ++dx) {
          if (dx * dx + dy * dy > square) continue;
          bool const inside = x + dx >= 0 && y + dy >= 0 && x + dx < width && y + dy < height;
          least = std::min<int>(least, inside ? picture[static_cast<std::size_t>((y + dy) * width + x + dx)] : 0);
        }
      wrong += made[static_cast<std::size_t>(y * width + x)] != least;
    }
  CHECK(wrong == 0);
}
