#include "marks/letter_area.h"

#include <catch2/catch.hpp>

#include "marks/page_reading.h"
#include "support/pdf_maker.h"

using namespace layright;
using test::PdfMaker;

namespace {

Rect<SeenSpace> const kInk{50, 60, 250, 160};

Rect<SeenSpace> area_of(std::vector<Rect<SeenSpace>> const& pictures) {
  Marks marks;
  marks.ink = kInk;
  for (auto const& where : pictures) marks.images.push_back({.where = where});
  return letter_area(marks);
}

}  // namespace

// By hand: 4 pt around the ink where pictures cover nine tenths of it and end, to a point, where it does on a side.
TEST_CASE("letters are looked for with white around a scan, and around nothing else", "[letters]") {
  auto const wide = kInk.grown(4);
  CHECK(area_of({}) == kInk);
  CHECK(area_of({kInk}) == wide);
  CHECK(area_of({kInk.grown(0.9)}) == wide);
  CHECK(area_of({kInk.grown(1.1)}) == kInk);     // the white is its own
  CHECK(area_of({{0, 20, 300, 300}}) == kInk);   // ink where a clip or a mask lets it be
  CHECK(area_of({{0, 20, 300, 160}}) == wide);   // on one side it ends with the picture
  CHECK(area_of({{50, 60, 229, 160}}) == kInk);  // drawn art beside a picture
  CHECK(area_of({{50, 60, 231, 160}}) == wide);
  CHECK(area_of({{50, 60, 250, 110}, {50, 110, 250, 160}}) == wide);  // in strips
}

TEST_CASE("the picture that letters are looked for in has white around a scan that fills its page", "[letters]") {
  PdfMaker pdf;
  auto const scan = pdf.stream("/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8", "\xB0");
  pdf.page().media("[0 0 300 200]").use("XObject", "I", scan).content("300 0 0 200 0 0 cm /I Do");
  std::string const bytes = pdf.bytes();
  auto const opened = test::open_for_marks(bytes);
  Page const page = opened.document->page(1);
  auto const picture = opened.reader->picture_of_letters(page, opened.reader->read(page, {}), LiveText::drawn, false);
  REQUIRE(picture);
  CHECK(picture->area.contains(Rect<SeenSpace>{-4, -4, 304, 204}));
  CHECK(picture->rgb.front() == 255);
}
