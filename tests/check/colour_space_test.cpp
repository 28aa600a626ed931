// colour.space: spaces that the profile does not want (ISO 32000-1, 8.6).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_in_all_spaces() {
  PdfMaker pdf;
  auto const lab = "[/Lab << /WhitePoint [0.9505 1 1.089] >>]";
  auto const picture = pdf.image_rgb(1, 1, {9, 90, 190});
  pdf.page()
      .use("ColorSpace", "L", lab)
      .use("XObject", "P", picture)
      .content(
          "0 g 50 50 10 10 re f 1 0 0 rg 80 50 10 10 re f 0 1 0 0 k 110 50 10 10 re f /L cs 50 20 20 sc 140 50 10 10 re f q 10 0 0 10 170 50 cm /P "
          "Do Q");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("colour.space wants all by default, and tells what a profile does not want") {
  auto page = page_in_all_spaces();
  CHECK(page.silent("colour.space"));
  page.target.limits.colour_spaces = {"gray", "rgb", "cmyk"};
  auto const lab = page.finding("colour.space");
  CHECK(number(lab.measured, "count") == 1);
  CHECK(lies_on(lab.where, {140, 50, 150, 60}));
  page.target.limits.colour_spaces = {"gray", "cmyk", "lab"};
  auto const rgb = page.finding("colour.space");
  CHECK(number(rgb.measured, "count") == 2);  // the mark and the picture
  CHECK(lies_on(rgb.where, {80, 50, 90, 60}));
}

TEST_CASE("the spaces of marks are told by their family and their inks") {
  PdfMaker pdf;
  std::string const tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 0 0] /N 1 >>";
  pdf.page().use("ColorSpace", "S", "[/Separation /Fern /DeviceCMYK " + tint + "]").content("/S cs 1 sc 50 50 10 10 re f 0.5 sc 80 50 10 10 re f");
  ArtPage const page(pdf);
  REQUIRE(page.marks.art->colours.size() == 1);
  CHECK(page.marks.art->colours[0].space == "spot");
  CHECK(page.marks.art->colours[0].inks == std::vector<std::string>{"Fern"});
  CHECK(page.marks.art->colours[0].marks.count == 2);
}
