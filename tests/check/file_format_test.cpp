#include <catch2/catch.hpp>

#include "check/source_view.h"

using namespace layright;
using test::MadeSource;

TEST_CASE("a name that promises another format is reported, one that says nothing is not") {
  MadeSource made{{Format::jpeg, "art/crest.png", {}, {}}, {}};
  auto const reported = made.reported(file_format());
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].check == "file.format");
  CHECK(reported[0].level == Level::note);
  CHECK(reported[0].message.find(".png") != std::string::npos);
  CHECK(reported[0].message.find("a JPEG picture") != std::string::npos);
  for (auto const* name : {"crest.jpg", "crest", "crest.v2", "-"}) {
    made.source.name = name;
    CHECK(made.reported(file_format()).empty());
  }
  made.source.format = Format::none;
  made.source.name = "crest.png";
  CHECK(made.reported(file_format()).empty());
}

TEST_CASE("what is not taken is held with its words") {
  MadeSource const made{
      {Format::refused, "order.docx", {}, {{ConversionNote::Kind::refused, "it is an office document"}, {ConversionNote::Kind::reported, "other"}}},
      {}};
  auto const reported = made.reported(file_format());
  REQUIRE(reported.size() == 1);
  CHECK(reported[0].level == Level::hold);
  CHECK(reported[0].message == "it is an office document");
}
