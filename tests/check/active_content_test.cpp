// active.content: ISO 32000-1, 12.6.4 and 7.11.4.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("active.content of a file") {
  PdfMaker pdf;
  pdf.page();
  CHECK(OpenFile(pdf.bytes()).silent("active.content"));
  pdf.catalog("OpenAction", "<< /S /JavaScript /JS (app.alert) >>");
  auto const f = OpenFile(pdf.bytes()).finding("active.content");
  CHECK(f.level == Level::note);
  CHECK_THAT(f.message, Contains("JavaScript"));
}

TEST_CASE("active.content of a page") {
  View v;
  CHECK(v.silent("active.content"));
  v.page.active_content = true;
  CHECK(v.finding("active.content").level == Level::note);
}
