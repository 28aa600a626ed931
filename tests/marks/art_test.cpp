// The notes of a page's art: what the smallest values keep, what a page that nobody asks about costs, text and pictures as they are drawn.
#include "marks/art.h"

#include <random>

#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("the smallest values are kept with their places, whatever comes in which order") {
  std::mt19937 random(Catch::rngSeed());
  std::uniform_real_distribution<double> value(0, 10);
  for (int round = 0; round < 50; ++round) {
    Smallest kept;
    std::vector<double> all;
    for (int i = 0; i < 500; ++i) {
      double const v = std::round(value(random) * 20) / 20;  // so that values meet again
      all.push_back(v);
      kept.add(v, {v, 0, v + 1, 1});
    }
    REQUIRE(kept.entries().size() <= Smallest::kMostValues);
    double const edge = kept.entries().back().value;
    for (double const limit : {0.0, edge / 3, edge / 2, edge}) {
      auto const wanted = std::count_if(all.begin(), all.end(), [&](double v) { return v < limit; });
      auto const found = kept.below(limit);
      CHECK(found.count == wanted);
      CHECK(found.first.size() == std::min<std::size_t>(static_cast<std::size_t>(wanted), kMostArtPlaces));
      for (std::size_t i = 1; i < found.first.size(); ++i) CHECK(found.first[i - 1].x0 <= found.first[i].x0);
    }
    CHECK(*kept.least() == *std::min_element(all.begin(), all.end()));
  }
}

TEST_CASE("memory does not grow with the marks") {
  Smallest kept;
  for (int i = 0; i < 100000; ++i) kept.add(1.0 / (i + 1), {0, 0, 1, 1});
  CHECK(kept.entries().size() <= Smallest::kMostValues);
  CHECK(*kept.least() == Approx(1e-5).margin(2e-3));
  Places places;
  for (int i = 0; i < 1000; ++i) places.add({0, 0, 1, 1});
  CHECK(places.count == 1000);
  CHECK(places.first.size() == kMostArtPlaces);
}

TEST_CASE("the art is noted only where somebody asks, and the ink is the same") {
  PdfMaker pdf;
  pdf.page().use("Font", "F", pdf.font()).content("0 g 50 60 100 100 re f 0 G 0.2 w 10 10 m 500 10 l S BT /F 20 Tf 60 300 Td (Wren) Tj ET");
  MarksWanted wanted;
  auto const plain = marks_of(pdf, wanted);
  CHECK_FALSE(plain.art);
  wanted.art = true;
  auto const noted = marks_of(pdf, wanted);
  REQUIRE(noted.art);
  CHECK(noted.ink == plain.ink);
  CHECK(noted.count == plain.count);
  CHECK(noted.art->paths == 2);
  CHECK(noted.art->texts == 1);
  REQUIRE(noted.art->fonts.size() == 1);
  CHECK(noted.art->fonts[0].glyphs.count == 4);
}

TEST_CASE("what a mask is made of, and what a clip hides, is no art of the page") {
  PdfMaker pdf;
  auto const group = pdf.form("[0 0 612 792]", "1 g 0.1 w 50 50 m 300 300 l S 100 100 200 200 re f",
                              "/Group << /S /Transparency /CS /DeviceGray >> /Resources << >>");
  pdf.page()
      .use("ExtGState", "M", "<< /SMask << /S /Luminosity /G " + group.text() + " >> >>")
      .content("/M gs 1 0 0 rg 100 100 200 200 re f q 0 0 1 1 re W n 0 G 0.1 w 400 400 m 500 500 l S Q");
  MarksWanted wanted;
  wanted.art = true;
  auto const marks = marks_of(pdf, wanted);
  REQUIRE(marks.art);
  CHECK(marks.art->paths == 1);
  CHECK(marks.art->soft_masks);
  CHECK(marks.art->lines.entries().empty());
  REQUIRE(marks.art->colours.size() == 1);
  CHECK(marks.art->colours[0].space == "rgb");
}
