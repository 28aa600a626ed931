#include <catch2/catch.hpp>

#include "check/source_view.h"

using namespace layright;
using test::MadeSource;
using test::picture_of;

TEST_CASE("transparency is reported, and what it means where white is laid") {
  MadeSource made{{Format::png, "a.png", {picture_of(300, 300)}, {}}, {}};
  CHECK(made.reported(picture_alpha()).empty());
  made.source.pictures[0].alpha = true;
  CHECK(made.reported(picture_alpha())[0].level == Level::note);
  CHECK(made.reported(picture_alpha())[0].message.find("no white") == std::string::npos);
  made.target.press.prints_white = true;
  CHECK(made.reported(picture_alpha())[0].message.find("no white") != std::string::npos);
}
