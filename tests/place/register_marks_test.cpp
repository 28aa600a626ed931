// Register marks lie inside the live area and off the ink (common practice, no published source).
#include "place/register_marks.h"

#include <catch2/catch.hpp>

#include "sheet/sheet.h"

using namespace layright;

namespace {
Rect<SheetSpace> const kLive = Sheet{}.live_area();
}

TEST_CASE("register marks lie inside the live area, in its corners and at the middles of its edges") {
  auto const marks = register_marks(kLive, std::nullopt);
  CHECK(marks.size() == 8);
  for (auto const& m : marks) CHECK(kLive.contains(Rect<SheetSpace>{m.x, m.y, m.x, m.y}.grown(kRegisterReach + kRegisterLine / 2)));
}

TEST_CASE("a register mark is left out where the ink's extents would touch it") {
  auto const marks = register_marks(kLive, Rect<SheetSpace>{kLive.x0, kLive.y0, kLive.x1, 400});
  CHECK(marks.size() == 5);
  for (auto const& m : marks) CHECK(m.y > 400 + kRegisterReach);
  CHECK(register_marks(kLive, kLive).empty());
}

TEST_CASE("a sheet too small for register marks has none") { CHECK(register_marks({0, 0, 40, 300}, std::nullopt).empty()); }
