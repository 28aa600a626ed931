// page.boxes: ISO 32000-1, 7.7.3.3, 7.9.5, 14.11.2, Annex C.2. The faults themselves are the document folder's to find.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.boxes is silent on sound boxes in any order of corners, anywhere") {
  PdfMaker pdf;
  pdf.page().media(GENERATE("[0 0 612 1224]", "[612 1224 0 0]", "[-100 -100 512 1124]", "[0 1224 612 0]"));
  CHECK(page_of(pdf).silent("page.boxes"));
}

TEST_CASE("page.boxes notes what can be helped and holds what can not") {
  PdfMaker pdf;
  auto& page = pdf.page();
  Level expected = Level::note;
  SECTION("no media box at all") { page.without_media(); }
  SECTION("crop reaches beyond the media box") { page.crop("[-10 0 612 792]"); }
  SECTION("trim reaches beyond the media box") { page.trim("[0 0 700 792]"); }
  SECTION("over the size limit") { page.media("[0 0 14401 792]"); }
  SECTION("a bad unit") { page.user_unit("-1"); }
  SECTION("crop without area") { page.crop("[0 0 0 792]"); }
  SECTION("media without area") {
    page.media("[5 5 5 792]");
    expected = Level::hold;
  }
  SECTION("media is no box") {
    page.media("[0 0 /a 792]");
    expected = Level::hold;
  }
  SECTION("crop wholly outside") {
    page.crop("[1000 1000 1200 1200]");
    expected = Level::hold;
  }
  auto const f = page_of(pdf).finding("page.boxes");
  CHECK(f.level == expected);
  CHECK_THAT(f.message, Contains(text(f.measured, "box")));
  CHECK((expected == Level::hold) == (f.message.find("ask for the file again") != std::string::npos));
}

TEST_CASE("page.boxes at the size limit") {
  PdfMaker pdf;
  pdf.page().media("[0 0 14400 3]");
  CHECK(page_of(pdf).silent("page.boxes"));
}
