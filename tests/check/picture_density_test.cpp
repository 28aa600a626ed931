#include <catch2/catch.hpp>

#include "check/source_view.h"

using namespace layright;
using test::MadeSource;
using test::picture_of;

TEST_CASE("a picture without a size is held until somebody gives one") {
  MadeSource made{{Format::png, "a.png", {picture_of(0, 72)}, {}}, {}};
  auto reported = made.reported(picture_density());
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].level == Level::hold);
  CHECK(reported[0].message.find("--width") != std::string::npos);
  CHECK(reported[0].message.find("4 x 2 in") != std::string::npos);  // 1200 x 600 pixels at 300, worked out by hand

  made.target.pixels_per_inch = 300;
  CHECK(made.reported(picture_density())[0].level == Level::note);
  made.target.pixels_per_inch.reset();
  made.target.placement.width = Length::inches(4);
  CHECK(made.reported(picture_density())[0].level == Level::note);
}

TEST_CASE("a picture that says how large it is has no finding; one that cannot mean it has") {
  CHECK(MadeSource{{Format::png, "a.png", {picture_of(300, 300)}, {}}, {}}.reported(picture_density()).empty());
  auto const reported = MadeSource{{Format::jpeg, "a.jpg", {picture_of(1, 72)}, {}}, {}}.reported(picture_density());
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].level == Level::hold);
  CHECK(reported[0].message.find("cannot be meant") != std::string::npos);
}
