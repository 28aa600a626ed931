#include <catch2/catch.hpp>

#include "check/source_view.h"

using namespace layright;
using test::MadeSource;
using test::picture_of;

TEST_CASE("of the eight orientations of Exif 2.3 the four that mirror are reported") {
  for (int orientation = 1; orientation <= 8; ++orientation) {
    MadeSource made{{Format::jpeg, "a.jpg", {picture_of(300, 300)}, {}}, {}};
    made.source.pictures[0].orientation = orientation;
    bool const mirrored = orientation == 2 || orientation == 4 || orientation == 5 || orientation == 7;
    CAPTURE(orientation);
    CHECK(made.reported(picture_turned()).size() == (mirrored ? 1 : 0));
  }
}
