// Which fine pieces lie in lines of ordinary text. Sizes in pixels at 720 to the inch: ten to the point. What real faces look like is judged by
// tests/art/weeding.py.
#include <catch2/catch.hpp>

#include "raster/weed_text.h"

using namespace layright;

namespace {

/// A line of letters of an em: small ones 0.45 high, every third 0.7; so many.
void add_line(WeedRows& rows, int x, int y, int em, int letters, bool turned = false) {
  for (int i = 0; i < letters; ++i) {
    int const high = i % 3 == 0 ? em * 7 / 10 : em * 45 / 100, x0 = x + i * em * 6 / 10;
    WeedBox const box{x0, y - high, x0 + em / 2, y};
    rows.add(turned ? WeedBox{box.y0, box.x0, box.y1, box.x1} : box);
  }
}

std::vector<WeedPiece> left(WeedRows& rows, std::vector<WeedPiece> found) {
  rows.take_out(found);
  return found;
}

WeedPiece at(int x, int y, int width = 4, int height = 4) { return {x, y, x + width, y + height, width * height, 2}; }

}  // namespace

TEST_CASE("a fine piece in a line of ordinary text is taken out, wherever it lies in its letter") {
  for (bool const turned : {false, true}) {
    WeedRows rows(720);
    add_line(rows, 1000, 1000, 80, 12, turned);
    auto const piece = [&](int x, int y, int w, int h) { return turned ? at(y, x, h, w) : at(x, y, w, h); };
    CHECK(left(rows, {piece(1100, 980, 10, 4)}).empty());        // the eye of an e
    CHECK(left(rows, {piece(1100, 930, 6, 6)}).empty());         // the dot of an i
    CHECK(left(rows, {piece(1600, 975, 80, 4)}).empty());        // a dash behind
    CHECK(left(rows, {piece(1100, 1030, 400, 3)}).size() == 1);  // a rule beneath
    CHECK(left(rows, {piece(1100, 1200, 6, 6)}).size() == 1);    // far away
    CHECK(left(rows, {piece(2100, 980, 6, 6)}).size() == 1);
  }
}

TEST_CASE("a line of which many letters are fine is reported") {
  WeedRows rows(720);
  add_line(rows, 1000, 1000, 80, 12);
  std::vector<WeedPiece> found;
  for (int i = 0; i < 4; ++i) found.push_back(at(1000 + 48 * i, 980));
  CHECK(left(rows, found).empty());
  found.push_back(at(1300, 980));
  CHECK(left(rows, found).size() == 5);
}

TEST_CASE("small text, few letters, large letters, and marks that are no letters keep what is found in them") {
  auto const kept = [](auto&& add) {
    WeedRows rows(720);
    add(rows);
    return left(rows, {at(1050, 980)}).size() == 1;
  };
  CHECK(!kept([](WeedRows& rows) { add_line(rows, 1000, 1000, 80, 12); }));
  CHECK(kept([](WeedRows& rows) { add_line(rows, 1000, 1000, 60, 12); }));  // 6 pt
  CHECK(kept([](WeedRows& rows) { add_line(rows, 1000, 1000, 80, 4); }));
  CHECK(kept([](WeedRows& rows) { add_line(rows, 0, 1000, 800, 12); }));  // 80 pt
  CHECK(kept([](WeedRows& rows) {
    for (int i = 0; i < 12; ++i) rows.add({1000 + 20 * i, 990, 1006 + 20 * i, 996});
  }));  // dots
  CHECK(kept([](WeedRows&) {}));
}
