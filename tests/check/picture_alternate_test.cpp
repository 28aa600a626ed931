// picture.alternate: pictures that bring alternates (ISO 32000-1, 8.9.5.4).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("picture.alternate counts pictures with alternates, also inside forms") {
  PdfMaker pdf;
  auto const other = pdf.image_gray(1, 1, {9});
  auto const image = pdf.image_gray(1, 1, {90}, "/Alternates [<< /Image " + other.text() + " >>]");
  auto const form = pdf.form("[0 0 10 10]", "/P Do", "/Resources << /XObject << /P " + image.text() + " >> >>");
  pdf.page().use("XObject", "F", form).content("q 10 0 0 10 50 60 cm /F Do Q");
  auto const f = ArtPage(pdf).finding("picture.alternate");
  CHECK(number(f.measured, "count") == 1);
}

TEST_CASE("picture.alternate is silent where there are none") {
  PdfMaker pdf;
  auto const image = pdf.image_gray(1, 1, {90}, "/Alternates []");
  pdf.page().use("XObject", "P", image).content("q 10 0 0 10 50 60 cm /P Do Q");
  CHECK(ArtPage(pdf).silent("picture.alternate"));
}
