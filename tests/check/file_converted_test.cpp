#include <catch2/catch.hpp>

#include "check/source_view.h"

using namespace layright;
using test::MadeSource;

TEST_CASE("what happened on the way is told, and held where something was left out") {
  MadeSource const made{{Format::svg,
                         "a.svg",
                         {},
                         {{ConversionNote::Kind::told, "around its ink"},
                          {ConversionNote::Kind::left_out, "a picture from elsewhere"},
                          {ConversionNote::Kind::damaged, "not ours"}}},
                        {}};
  auto const told = made.told(file_converted());
  REQUIRE(told.size() == 2);
  CHECK(told[0].level == Level::note);
  CHECK(told[1].level == Level::hold);
  CHECK(told[1].check == "file.converted");
  CHECK(MadeSource{{Format::svg, "a.svg", {}, {}}, {}}.told(file_converted()).empty());
}
