#include "write/sheet_marks.h"

#include <catch2/catch.hpp>
#include <set>

namespace layright {
namespace {

TEST_CASE("marks go on from the sides of a box and do not touch it") {
  Rect<SheetSpace> const box{100, 200, 300, 260};
  auto const marks = corner_marks(box, 2, 5);
  REQUIRE(marks.size() == 8);
  for (auto const& mark : marks) {
    auto const e = mark.extents();
    CHECK(box.grown(7 + kMarkWidth / 2).contains(e, 1e-9));
    auto const touched = intersection(box.grown(1.74), e);
    CHECK_FALSE(touched);
    auto const& line = mark.lines.at(0);
    bool const upright = line[0].x == line[1].x;
    CHECK((upright ? line[0].x == box.x0 || line[0].x == box.x1 : line[0].y == box.y0 || line[0].y == box.y1));
  }
}

TEST_CASE("every letter and figure has lines inside its place, and no two look alike") {
  std::set<std::vector<std::vector<std::pair<double, double>>>> shapes;
  std::string const letters = "123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ/.,:+()-";  // 0 looks like O
  for (char const letter : letters) {
    auto const mark = label_mark(std::string(1, letter), {10, 20}, 6);
    REQUIRE_FALSE(mark.lines.empty());
    std::vector<std::vector<std::pair<double, double>>> shape;
    for (auto const& line : mark.lines) {
      CHECK(line.size() >= 2);
      shape.emplace_back();
      for (auto const& p : line) {
        CHECK((p.x >= 10 && p.x <= 14 && p.y >= 20 && p.y <= 26));
        shape.back().emplace_back(p.x, p.y);
      }
    }
    CHECK(shapes.insert(shape).second);
  }
}

TEST_CASE("a label is as wide as it says") {
  auto const text = GENERATE("8", "H1H", "M 3/6", "m\xc3\xbcH");
  auto const mark = label_mark(text, {0, 0}, 6);
  CHECK(mark.extents().x1 <= label_width(text, 6) + kMarkWidth / 2 + 1e-9);
  CHECK(mark.extents().x1 >= label_width(text, 6) - 2);
  CHECK(label_width("", 6) == 0);
  CHECK(label_mark("m", {0, 0}, 6).lines == label_mark("M", {0, 0}, 6).lines);
}

TEST_CASE("marks are drawn black, each as one path, wide enough to print") {
  std::vector<SheetMark> const marks{{{{{1, 2}, {3, 4}}, {{5, 6}, {7, 8}, {9, 1}}}}, {{{{0, 0}, {0, 5}}}}};
  CHECK(mark_operators(marks) == "q 0 G 0.5 w 1 J 1 j [] 0 d\n1 2 m 3 4 l 5 6 m 7 8 l 9 1 l S\n0 0 m 0 5 l S\nQ\n");
  CHECK(mark_operators({}).empty());
}

TEST_CASE("a mark is moved with all of its lines") {
  auto const mark = moved(label_mark("7", {0, 0}, 6), Matrix<SheetSpace, SheetSpace>{-1, 0, 0, 1, 10, 0});
  CHECK(mark.lines.at(0).at(0) == Point<SheetSpace>{10, 6});
  CHECK(mark.lines.at(0).at(1) == Point<SheetSpace>{6, 6});
}

}  // namespace
}  // namespace layright
