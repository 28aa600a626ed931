// page.feed: the size is right, but only the other way round. By hand from DESIGN section 6.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.feed fires only on the sheet's size the other way round") {
  struct Row {
    double w, h;
    Feed feed;
    bool fires;
  };
  auto const row = GENERATE(values<Row>({{612, 1224, Feed::short_edge, false},
                                         {1224, 612, Feed::short_edge, true},
                                         {1224, 612, Feed::long_edge, false},
                                         {612, 1224, Feed::long_edge, true},
                                         {1224.5, 611.5, Feed::short_edge, true},
                                         {1224.6, 612, Feed::short_edge, false},
                                         {792, 612, Feed::short_edge, false}}));
  View v;
  v.target.sheet.feed = row.feed;
  CHECK(v.sized(row.w, row.h).silent("page.feed") == !row.fires);
}

TEST_CASE("page.feed never fires on a square sheet, nor on one that is square within the tolerance") {
  View v;
  v.target.sheet.width = Length::points(720);
  v.target.sheet.length = Length::points(GENERATE(720.0, 720.4));
  CHECK(v.sized(720, 720).silent("page.feed"));
  CHECK(v.sized(720.4, 720).silent("page.feed"));
}

TEST_CASE("page.feed goes by what is seen") {
  PdfMaker pdf;
  pdf.page().media("[0 0 612 1224]").rotate("90");
  auto const f = page_of(pdf).finding("page.feed");
  CHECK(f.level == Level::fix);
  CHECK_THAT(f.message, Contains("17 x 8.5 in") && Contains("short edge first") && Contains("`lay`"));
  CHECK(number(f.wanted, "width_pt") == 612);
  PdfMaker lying;
  lying.page().media("[0 0 612 306]").rotate("-90").user_unit("2");
  CHECK(page_of(lying).silent("page.feed"));
}
