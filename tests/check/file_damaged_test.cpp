// file.damaged: note when repaired whole, hold when anything was lost (DESIGN section 6; ISO 32000-1, 7.5).
#include "check/trouble.h"
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("file.damaged: a sound file is silent, a wrong table is a note") {
  std::string bytes = one_page_pdf("[0 0 612 792]", "0 0 10 10 re f");
  CHECK(OpenFile(bytes).silent("file.damaged"));
  auto const at = bytes.rfind("startxref");
  REQUIRE(at != std::string::npos);
  bytes.replace(at, bytes.size() - at, "startxref\n7\n%%EOF\n");
  auto const f = OpenFile(bytes).finding("file.damaged");
  CHECK(f.level == Level::note);
  CHECK_THAT(f.message, Contains("repaired whole"));
}

TEST_CASE("file.damaged: losses are held, one finding each") {
  OpenFile file(one_page_pdf("[0 0 612 792]", ""));
  file.losses = {"page 3 is not there", "page 4 is not there"};
  auto const all = file.findings("file.damaged");
  REQUIRE(all.size() == 2);
  CHECK(all[1].level == Level::hold);
  CHECK(all[1].message == "page 4 is not there");
}

TEST_CASE("file.damaged: a page that cannot be read, or not wholly") {
  View v;
  CHECK(v.silent("file.damaged"));
  v.marks.whole = false;
  v.marks.trouble = "an image cannot be decoded";
  auto const half = v.finding("file.damaged");
  CHECK(half.level == Level::hold);
  CHECK_THAT(half.message, Contains("an image cannot be decoded"));
  v.marks.out_of_time = true;
  CHECK(v.silent("file.damaged"));  // that is file.limit
  v.page.usable = false;
  v.page.trouble = "its description in the file is damaged";
  CHECK_THAT(v.finding("file.damaged").message, Contains("cannot be read"));
  v.page.box_faults = {{"MediaBox", "has no area", false}};
  v.with_marks = false;
  CHECK(v.silent("file.damaged"));  // that is page.boxes
}

TEST_CASE("cannot_open names the check that the trouble belongs to") {
  using Kind = OpenError::Kind;
  struct Row {
    Kind kind;
    char const* check;
  };
  auto const row = GENERATE(values<Row>({{Kind::password, "file.password"},
                                         {Kind::certificate, "file.password"},
                                         {Kind::damaged, "file.damaged"},
                                         {Kind::not_pdf, "file.damaged"},
                                         {Kind::empty, "file.damaged"},
                                         {Kind::limit, "file.limit"}}));
  auto const f = cannot_open({row.kind, "the reason"});
  CHECK(f.check == row.check);
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("the reason"));
}

TEST_CASE("cannot_open on files that are none") {
  for (std::string const& bytes : {std::string(), std::string("hello, this is a letter"), std::string("%PDF-1.7\n%%EOF\n")}) {
    auto const opened = Document::open(bytes_of(bytes), "test.pdf", "");
    REQUIRE(std::holds_alternative<OpenError>(opened));
    CHECK(cannot_open(std::get<OpenError>(opened)).check == "file.damaged");
  }
}
