#include <catch2/catch.hpp>

#include "check/source_view.h"

using namespace layright;
using test::MadeSource;

TEST_CASE("what happened on the way is reported, and held where something was left out") {
  MadeSource const made{{Format::svg,
                         "a.svg",
                         {},
                         {{ConversionNote::Kind::reported, "around its ink"},
                          {ConversionNote::Kind::left_out, "a picture from elsewhere"},
                          {ConversionNote::Kind::damaged, "not ours"}}},
                        {}};
  auto const reported = made.reported(file_converted());
  REQUIRE(reported.size() == 2);
  CHECK(reported[0].level == Level::note);
  CHECK(reported[1].level == Level::hold);
  CHECK(reported[1].check == "file.converted");
  CHECK(MadeSource{{Format::svg, "a.svg", {}, {}}, {}}.reported(file_converted()).empty());
}
