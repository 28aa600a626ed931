// Boxes, rotation and unit as ISO 32000-1 says: 7.7.3.3 (Table 30), 7.7.3.4 (inheritance), 7.9.5 (rectangles), 14.11.2 (boxes).
#include <catch2/catch.hpp>

#include <cmath>

#include "document/document.h"
#include "support/pdf_maker.h"

using namespace layright;
using namespace layright::test;
using Catch::Matchers::WithinAbs;

namespace {

using PageRect = Rect<PageSpace>;

Page page_of(PdfMaker const& pdf, int number = 1) {
  auto const bytes = pdf.bytes();
  auto const opened = Document::open(bytes_of(bytes), "test.pdf", "");
  REQUIRE(std::holds_alternative<std::unique_ptr<Document>>(opened));
  return std::get<std::unique_ptr<Document>>(opened)->page(number);
}

bool reports(Page const& page, std::string const& box, std::string const& part, bool usable = true) {
  for (auto const& fault : page.box_faults)
    if (fault.box == box && fault.what.find(part) != std::string::npos && fault.usable == usable) return true;
  return false;
}

}  // namespace

TEST_CASE("a box is any two opposite corners") {
  // 7.9.5: "any two diagonally opposite corners".
  auto const* corners = GENERATE("[10 20 110 220]", "[110 220 10 20]", "[10 220 110 20]", "[110 20 10 220]");
  PdfMaker pdf;
  pdf.page().media(corners);
  auto const page = page_of(pdf);
  CHECK(page.usable);
  CHECK(page.box_faults.empty());
  CHECK(page.boxes.media == PageRect{10, 20, 110, 220});
}

TEST_CASE("boxes that are not there default as Table 30 says") {
  PdfMaker pdf;
  pdf.page().media("[0 0 300 400]").crop("[10 10 200 300]");
  auto const page = page_of(pdf);
  CHECK(page.boxes.crop == PageRect{10, 10, 200, 300});
  CHECK(page.boxes.bleed == page.boxes.crop);
  CHECK(page.boxes.trim == page.boxes.crop);
  CHECK(page.boxes.art == page.boxes.crop);
  CHECK_FALSE(page.has_trim);
  CHECK(page.box_faults.empty());
}

TEST_CASE("only MediaBox, CropBox, Resources and Rotate are inherited") {
  PdfMaker pdf;
  pdf.inherited("MediaBox", "[0 0 300 400]").inherited("CropBox", "[0 0 300 200]").inherited("Rotate", "90");
  pdf.inherited("TrimBox", "[5 5 10 10]").inherited("UserUnit", "4");
  pdf.page().without_media();
  auto const page = page_of(pdf);
  CHECK(page.boxes.media == PageRect{0, 0, 300, 400});
  CHECK(page.boxes.crop == PageRect{0, 0, 300, 200});
  CHECK(page.clockwise == Turn::quarter);
  CHECK(page.boxes.trim == page.boxes.crop);
  CHECK(page.user_unit == 1);
  CHECK(page.seen.width == 200);
  CHECK(page.seen.height == 300);
}

TEST_CASE("a page's own value wins over an inherited one") {
  PdfMaker pdf;
  pdf.inherited("MediaBox", "[0 0 300 400]").inherited("Rotate", "90");
  pdf.page().media("[0 0 50 60]").rotate("0");
  auto const page = page_of(pdf);
  CHECK(page.boxes.media == PageRect{0, 0, 50, 60});
  CHECK(page.clockwise == Turn::none);
}

TEST_CASE("what is seen is the crop box within the media box") {
  // 14.11.2.1: boxes that reach beyond the media box count as their intersection with it.
  PdfMaker pdf;
  pdf.page().media("[0 0 300 400]").crop("[-50 100 200 900]");
  auto const page = page_of(pdf);
  CHECK(page.usable);
  CHECK(page.boxes.crop == PageRect{0, 100, 200, 400});
  CHECK(reports(page, "CropBox", "beyond the media box"));
}

TEST_CASE("a crop box wholly outside the media box leaves nothing to see") {
  auto const* crop = GENERATE("[400 0 500 100]", "[300 0 400 400]");  // apart; touching
  PdfMaker pdf;
  pdf.page().media("[0 0 300 400]").crop(crop);
  auto const page = page_of(pdf);
  CHECK_FALSE(page.usable);
  CHECK(reports(page, "CropBox", "outside", false));
  CHECK_FALSE(page.trouble.empty());
}

TEST_CASE("Rotate is taken modulo 360, also when negative; anything else is no turn") {
  struct Row {
    char const* written;
    std::optional<Turn> clockwise;
  };
  auto const row = GENERATE(values<Row>({{"0", Turn::none},
                                         {"90", Turn::quarter},
                                         {"180", Turn::half},
                                         {"270", Turn::three_quarters},
                                         {"360", Turn::none},
                                         {"450", Turn::quarter},
                                         {"-90", Turn::three_quarters},
                                         {"-270", Turn::quarter},
                                         {"-450", Turn::three_quarters},
                                         {"90.0", Turn::quarter},
                                         {"45", std::nullopt},
                                         {"89.5", std::nullopt},
                                         {"/Left", std::nullopt},
                                         {"36000000000000000", Turn::none}}));
  PdfMaker pdf;
  pdf.page().rotate(row.written);
  auto const page = page_of(pdf);
  INFO(row.written);
  if (std::string(row.written) != "36000000000000000") {
    CHECK(page.clockwise == row.clockwise);
    CHECK(page.rotate_as_written == row.written);
  } else {
    CHECK_FALSE(page.clockwise);  // beyond what a double holds exactly, nobody knows the turn
  }
}

TEST_CASE("a media box that cannot be used is reported, and the page is held") {
  struct Row {
    char const *written, *says;
  };
  auto const row = GENERATE(values<Row>({{"[0 0 612]", "not four numbers"},
                                         {"[0 0 612 792 5]", "not four numbers"},
                                         {"[0 0 /Wide 792]", "not four numbers"},
                                         {"(large)", "not four numbers"},
                                         {"17", "not four numbers"},
                                         {"[0 0 nan 792]", "not four numbers"},
                                         {"[0 0 null 792]", "not four numbers"},
                                         {"[0 0 0 792]", "no area"},
                                         {"[5 5 5 5]", "no area"},
                                         {"[0 0 99999999 792]", "beyond all reason"},
                                         {"[0 0 1000000000000000000000000000000000000.0 792]", "beyond all reason"}}));
  PdfMaker pdf;
  pdf.page().media(row.written);
  auto const page = page_of(pdf);
  INFO(row.written);
  CHECK_FALSE(page.usable);
  CHECK(reports(page, "MediaBox", row.says, false));
  CHECK_FALSE(page.trouble.empty());
}

TEST_CASE("a missing media box is reported; readers take 8.5 x 11 in") {
  // Common practice of readers, no published source.
  PdfMaker pdf;
  pdf.page().without_media();
  auto const page = page_of(pdf);
  CHECK(page.usable);
  CHECK(page.boxes.media == PageRect{0, 0, 612, 792});
  CHECK(reports(page, "MediaBox", "missing"));
}

TEST_CASE("other boxes that cannot be used are reported and default") {
  auto const* written = GENERATE("[0 0 10]", "[7 7 7 9]", "/None", "[0 0 10 inf]");
  PdfMaker pdf;
  pdf.page().media("[0 0 300 400]").crop(written).trim(written).bleed(written).art(written);
  auto const page = page_of(pdf);
  CHECK(page.usable);
  CHECK(page.boxes.crop == page.boxes.media);
  CHECK(page.boxes.trim == page.boxes.media);
  CHECK(page.box_faults.size() == 4);
  CHECK_FALSE(page.has_trim);
}

TEST_CASE("sizes at the limits of Annex C.2 pass, beyond them they are reported") {
  auto const faults = [](char const* media) {
    PdfMaker pdf;
    pdf.page().media(media);
    auto const page = page_of(pdf);
    CHECK(page.usable);
    return page.box_faults.size();
  };
  CHECK(faults("[0 0 14400 14400]") == 0);
  CHECK(faults("[0 0 14400.5 14400]") == 1);
  CHECK(faults("[0 0 3 3]") == 0);
  CHECK(faults("[0 0 2.9 3]") == 1);
}

TEST_CASE("boxes may be written indirectly, whole or in part") {
  PdfMaker pdf;
  auto const box = pdf.object("[0 0 300 400]");
  auto const number = pdf.object("250");
  pdf.page().media(box.text()).crop("[0 0 " + number.text() + " 400]");
  auto const page = page_of(pdf);
  CHECK(page.box_faults.empty());
  CHECK(page.boxes.crop == PageRect{0, 0, 250, 400});
}

TEST_CASE("UserUnit is a number above 0, else 1 is taken and told") {
  struct Row {
    char const* written;
    double unit;
    std::size_t faults;
    bool usable;
  };
  auto const row = GENERATE(values<Row>({{"2", 2, 0, true},
                                         {"0.5", 0.5, 0, true},
                                         {"10.25", 10.25, 0, true},
                                         {"0", 1, 1, true},
                                         {"-3", 1, 1, true},
                                         {"/Two", 1, 1, true},
                                         {"1000000", 1, 1, false}}));
  PdfMaker pdf;
  pdf.page().user_unit(row.written);
  auto const page = page_of(pdf);
  INFO(row.written);
  CHECK(page.user_unit == row.unit);
  CHECK(page.box_faults.size() == row.faults);
  CHECK(page.usable == row.usable);
}

TEST_CASE("seen space does not depend on where the origin lies") {
  // Computed by hand: the crop box is 100 x 200 units; its lower left as seen lands on the origin.
  struct Origin {
    double x, y;
  };
  auto const origin = GENERATE(values<Origin>({{0, 0}, {72, 36}, {-500, -20}}));
  int const rotate = GENERATE(0, 90, 180, 270);
  double const unit = GENERATE(1.0, 2.0);
  PdfMaker pdf;
  auto const n = [](double v) { return std::to_string(v) + " "; };
  pdf.page()
      .media("[" + n(origin.x - 10) + n(origin.y - 10) + n(origin.x + 300) + n(origin.y + 300) + "]")
      .crop("[" + n(origin.x) + n(origin.y) + n(origin.x + 100) + n(origin.y + 200) + "]")
      .rotate(std::to_string(rotate))
      .user_unit(std::to_string(unit));
  auto const page = page_of(pdf);
  REQUIRE(page.usable);
  bool const sideways = rotate % 180 != 0;
  CHECK_THAT(page.seen.width, WithinAbs((sideways ? 200 : 100) * unit, 1e-6));
  auto const seen = page.to_seen.apply(page.boxes.crop);
  CHECK_THAT(seen.x0, WithinAbs(0, 1e-6));
  CHECK_THAT(seen.y0, WithinAbs(0, 1e-6));
  // The page's own upper left corner, turned clockwise with the page.
  auto const corner = page.to_seen.apply(Point<PageSpace>{origin.x, origin.y + 200});
  double const x = rotate == 0 || rotate == 270 ? 0 : page.seen.width, y = rotate == 0 || rotate == 90 ? page.seen.height : 0;
  CHECK_THAT(corner.x, WithinAbs(x, 1e-6));
  CHECK_THAT(corner.y, WithinAbs(y, 1e-6));
}
