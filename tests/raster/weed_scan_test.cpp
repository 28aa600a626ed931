// Thin parts and small pieces, against a search that looks at every pixel by itself.
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <random>

#include "raster/weed_scan.h"

using namespace layright;

namespace {

struct Grid {
  int width, height;
  std::vector<char> marked;
  Grid(int w, int h) : width(w), height(h), marked(static_cast<std::size_t>(w * h)) {}
  bool at(int x, int y) const { return x >= 0 && y >= 0 && x < width && y < height && marked[static_cast<std::size_t>(y * width + x)]; }
  void set(int x, int y, bool on = true) {
    if (x >= 0 && y >= 0 && x < width && y < height) marked[static_cast<std::size_t>(y * width + x)] = on;
  }
  void box(int x0, int y0, int x1, int y1, bool on = true) {
    for (int y = y0; y < y1; ++y)
      for (int x = x0; x < x1; ++x) set(x, y, on);
  }
};

std::vector<WeedPiece> scanned(Grid const& grid, WeedRules const& rules) {
  std::vector<WeedPiece> found;
  WeedScan scan(grid.width, rules, [&](WeedPiece const& p) { found.push_back(p); });
  for (int y = 0; y < grid.height; ++y) {
    std::vector<std::uint64_t> bits(scan.words());
    for (int x = 0; x < grid.width; ++x)
      if (grid.at(x, y)) bits[static_cast<std::size_t>(x) / 64] |= std::uint64_t{1} << (x % 64);
    scan.row(bits);
  }
  scan.finish();
  return found;
}

/// Each pixel by itself, straight from the words of the header.
struct Search {
  Grid const& grid;
  WeedRules rules;

  template <class Each>
  void each(Each&& use) const {
    for (int y = 0; y < grid.height; ++y)
      for (int x = 0; x < grid.width; ++x) use(x, y);
  }
  /// Pixels of a disc by the upper left corner of its square.
  template <class Each>
  static void disc(int n, Each&& use) {
    double const middle = (n - 1) / 2.0;
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i)
        if ((i - middle) * (i - middle) + (j - middle) * (j - middle) <= n * n / 4.0 + 1e-9) use(i, j);
  }
  bool fits(int n, int x, int y) const {
    bool all = true;
    disc(n, [&](int i, int j) { all = all && grid.at(x + i, y + j); });
    return all;
  }
  std::vector<std::vector<std::pair<int, int>>> pieces(Grid const& of) const {
    std::vector<std::vector<std::pair<int, int>>> all;
    Grid seen(of.width, of.height);
    each([&](int sx, int sy) {
      if (!of.at(sx, sy) || seen.at(sx, sy)) return;
      std::vector<std::pair<int, int>> piece{{sx, sy}};
      seen.set(sx, sy);
      for (std::size_t k = 0; k < piece.size(); ++k)
        for (int j = -1; j <= 1; ++j)
          for (int i = -1; i <= 1; ++i) {
            auto const [x, y] = piece[k];
            if ((!rules.diagonals && i != 0 && j != 0) || !of.at(x + i, y + j) || seen.at(x + i, y + j)) continue;
            seen.set(x + i, y + j);
            piece.emplace_back(x + i, y + j);
          }
      all.push_back(std::move(piece));
    });
    return all;
  }
  static WeedPiece reported(std::vector<std::pair<int, int>> const& piece, int width) {
    WeedPiece p{1 << 20, 1 << 20, 0, 0, static_cast<long>(piece.size()), width};
    for (auto const& [x, y] : piece) p = {std::min(p.x0, x), std::min(p.y0, y), std::max(p.x1, x + 1), std::max(p.y1, y + 1), p.area, width};
    return p;
  }
  std::vector<WeedPiece> run() const {
    Grid covered(grid.width, grid.height), thin = covered;
    each([&](int x, int y) {
      if (fits(rules.width, x, y)) disc(rules.width, [&](int i, int j) { covered.set(x + i, y + j); });
    });
    Grid reached = covered;
    int const steps = rules.diagonals ? rules.width : static_cast<int>(std::ceil(rules.width * std::sqrt(2.0)));
    for (int step = 0; step < steps; ++step) {
      Grid const before = reached;
      each([&](int x, int y) {
        if (!grid.at(x, y)) return;
        for (int j = -1; j <= 1; ++j)
          for (int i = -1; i <= 1; ++i)
            if ((i == 0 || j == 0 || (rules.diagonals && step % 2 == 0)) && before.at(x + i, y + j)) reached.set(x, y);
      });
    }
    each([&](int x, int y) { thin.set(x, y, grid.at(x, y) && !covered.at(x, y)); });
    std::vector<WeedPiece> found;
    for (auto const& piece : pieces(thin)) {
      int width = 0;
      for (auto const& [x, y] : piece) {
        if (reached.at(x, y)) continue;
        for (int n = 1; n < std::max(2, rules.width); ++n)
          if (fits(n, x - (n - 1) / 2, y - (n - 1) / 2)) width = std::max(width, n);
      }
      bool held = false;
      for (auto const& [x, y] : piece)
        for (int j = -1; j <= 1; ++j)
          for (int i = -1; i <= 1; ++i) held = held || ((rules.diagonals || i == 0 || j == 0) && covered.at(x + i, y + j));
      auto const p = reported(piece, width);
      if (width > 0 && (!held || std::hypot(p.x1 - p.x0, p.y1 - p.y0) >= rules.length)) found.push_back(p);
    }
    for (auto const& piece : pieces(grid)) {
      bool wide = false;
      for (auto const& [x, y] : piece) wide = wide || covered.at(x, y);
      if (wide && static_cast<double>(piece.size()) < rules.area) found.push_back(reported(piece, 0));
    }
    return found;
  }
};

auto key(WeedPiece const& p) { return std::tuple(p.y0, p.x0, p.x1, p.y1, p.area, p.width); }

void same(std::vector<WeedPiece> a, std::vector<WeedPiece> b) {
  auto const before = [](WeedPiece const& p, WeedPiece const& q) { return key(p) < key(q); };
  std::sort(a.begin(), a.end(), before);
  std::sort(b.begin(), b.end(), before);
  REQUIRE(a.size() == b.size());
  for (std::size_t i = 0; i < a.size(); ++i) CHECK(key(a[i]) == key(b[i]));
}

}  // namespace

TEST_CASE("a disc fits where the distance to what is not marked says so") {
  std::mt19937 chance(4);
  for (int n = 1; n <= 9; n += 2) {  // an odd disc has its middle on a pixel
    Grid grid(70, 40);
    grid.box(0, 0, 70, 40);
    for (int k = 0; k < 40; ++k) grid.set(static_cast<int>(chance() % 70), static_cast<int>(chance() % 40), false);
    auto const disc = weed_disc(n);
    for (int y = 0; y < 40; ++y)
      for (int x = 0; x < 70; ++x) {
        double nearest = 1e9;
        for (int v = -1; v <= 40; ++v)
          for (int u = -1; u <= 70; ++u)
            if (!grid.at(u, v)) nearest = std::min(nearest, std::hypot(u - x, v - y));
        bool fits = true;
        for (int j = 0; j < n; ++j)
          for (int i = 0; i < disc[static_cast<std::size_t>(j)].length; ++i)
            fits = fits && grid.at(x - n / 2 + disc[static_cast<std::size_t>(j)].from + i, y - n / 2 + j);
        REQUIRE(fits == (nearest > n / 2.0));
      }
  }
}

TEST_CASE("strips count below the width and not from it on, whole or as parts, upright or lying") {
  for (int n : {1, 2, 3, 4, 5, 8, 13, 24})
    for (int strip = 1; strip <= n + 1; ++strip) {
      CAPTURE(n, strip);
      bool const thin = strip < n;
      Grid alone(200, 320), part(200, 320), turned(320, 200);
      alone.box(50, 60, 50 + strip, 300);
      part.box(20, 20, 180, 80);  // with a tail
      part.box(61, 80, 61 + strip, 300);
      turned.box(60, 50, 300, 50 + strip);
      for (bool diagonals : {true, false}) {
        auto const a = scanned(alone, {n, 0, diagonals}), p = scanned(part, {n, 0, diagonals}), t = scanned(turned, {n, 0, diagonals});
        REQUIRE(a.size() == (thin ? 1 : 0));
        REQUIRE(p.size() == (thin ? 1 : 0));
        REQUIRE(t.size() == (thin ? 1 : 0));
        if (!thin) continue;
        CHECK(key(a[0]) == std::tuple(60, 50, 50 + strip, 300, 240L * strip, strip));
        CHECK(p[0].width == strip);
        CHECK(p[0].y1 == 300);
        CHECK(std::abs(p[0].y0 - 80) <= n);
        CHECK(t[0].width == strip);
      }
    }
}

TEST_CASE("corners, short spurs and round things are not thin") {
  for (int n : {3, 6, 10}) {
    Grid grid(300, 300);
    grid.box(20, 20, 120, 120);
    grid.box(60, 120, 62, 120 + n / 2);
    for (int y = 0; y < 300; ++y)
      for (int x = 0; x < 300; ++x)
        if (std::hypot(x - 200, y - 200) <= 40 || (x > 130 && x < 160 && y < 100 && y > 230 - x)) grid.set(x, y);
    same(scanned(grid, {n, 0, true}), Search{grid, {n, 0, true}}.run());
    CHECK(scanned(grid, {n, 0, true}).empty());
  }
}

TEST_CASE("small pieces count below the area and not from it on") {
  Grid grid(100, 100);
  grid.box(10, 10, 20, 20);
  grid.box(50, 50, 90, 90);
  CHECK(scanned(grid, {4, 100, true}).empty());
  auto const found = scanned(grid, {4, 101, true});
  REQUIRE(found.size() == 1);
  CHECK(key(found[0]) == std::tuple(10, 10, 20, 20, 100L, 0));
}

TEST_CASE("every kind of picture is judged as the search judges it, over any number of blocks") {
  std::mt19937 chance(11);
  auto const below = [&](int n) { return static_cast<int>(chance() % static_cast<unsigned>(n)); };
  for (int round = 0; round < 24; ++round) {
    Grid grid(40 + below(110), round % 4 == 0 ? 530 : 30 + below(90));
    for (int k = 0; k < grid.height / 2; ++k) {
      int const x = below(grid.width), y = below(grid.height);
      grid.box(x, y, x + 1 + below(round % 3 == 0 ? 30 : 7), y + 1 + below(round % 3 == 1 ? 30 : 7), below(3) != 0);
    }
    if (round % 5 == 0)
      for (int k = 0; k < grid.width * grid.height / 5; ++k) grid.set(below(grid.width), below(grid.height), below(2) != 0);
    WeedRules const rules{1 + below(8), static_cast<double>(below(60)), round % 2 == 0, round % 3 == 0 ? 0 : below(40)};
    CAPTURE(round, grid.width, grid.height, rules.width, rules.area, rules.diagonals, rules.length);
    same(scanned(grid, rules), Search{grid, rules}.run());
  }
}

TEST_CASE("a thin part of something wider counts from a length on, a piece of its own at any") {
  for (bool diagonals : {true, false}) {
    Grid grid(300, 200);
    grid.box(20, 20, 120, 80);
    grid.box(60, 80, 62, 120);  // a spur
    grid.box(150, 20, 250, 80);
    grid.box(120, 40, 150, 42);  // a neck between the two
    grid.box(40, 150, 42, 160);  // alone
    auto const found = [&](int length) { return scanned(grid, {6, 0, diagonals, length}); };
    CHECK(found(0).size() == 3);
    CHECK(found(35).size() == 2);
    auto const alone = found(60);
    REQUIRE(alone.size() == 1);
    CHECK(key(alone[0]) == std::tuple(150, 40, 42, 160, 20L, 2));
  }
}

TEST_CASE("a scan that is full, or stopped, tells only what no further row could change") {
  long found = 0;
  WeedScan scan(64, {4, 0, true}, [&](WeedPiece const& p) {
    ++found;
    CHECK(p.y0 < p.y1);
  });
  std::vector<std::uint64_t> const dots{0x1111111111111111}, none{0};
  long rows = 0;
  for (; !scan.full(); ++rows) scan.row(rows % 2 == 0 ? dots : none);
  CHECK(rows < 2 * kMostWeedPieces);
  scan.stop();
  CHECK(found >= kMostWeedPieces);
  CHECK(found <= 16 * rows / 2);

  // A block that has only begun, and a strip that is long already.
  std::vector<WeedPiece> reported;
  WeedScan cut(64, {4, 1000, true}, [&](WeedPiece const& p) { reported.push_back(p); });
  std::vector<std::uint64_t> const strip{0x3}, both{0xffff00000003};
  for (int y = 0; y < 2000; ++y) cut.row(y < 1990 ? strip : both);
  cut.stop();
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].x1 == 2);
  CHECK(reported[0].width == 2);
}
