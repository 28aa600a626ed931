// Live text that something opaque hides says nothing of how the page reads: ISO 32000-1, 11.3.2 (what is painted later lies on top).
#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

namespace {

/// A page with "Lantern" reversed, 100 pt wide at most, its line from (100, 100) up; then `later`.
Reading read(std::string const& later, std::string const& earlier = "") {
  PdfMaker pdf;
  auto const solid = pdf.image_gray(2, 2, {0, 255, 255, 0}), fading = pdf.image_gray(1, 1, {128});
  auto const fill = pdf.object("<< /FunctionType 2 /Domain [0 1] /C0 [1 0 0] /C1 [0 0 1] /N 1 >>").text();
  auto const shading = [&](char const* extend) {
    return "<< /ShadingType 2 /ColorSpace /DeviceRGB /Coords [120 0 180 0] /Function " + fill + " /Extend [" + extend + "] >>";
  };
  pdf.page()
      .use("Font", "F", pdf.font())
      .use("XObject", "I", solid)
      .use("XObject", "M", pdf.image_gray(2, 2, {0, 255, 255, 0}, "/SMask " + fading.text()))
      .use("Shading", "On", shading("true true"))
      .use("Shading", "Off", shading("false false"))
      .use("ExtGState", "Half", "<< /ca 0.5 >>")
      .use("ExtGState", "Multiply", "<< /BM /Multiply >>")
      .content(earlier + " q -1 0 0 1 200 100 cm BT /F 20 Tf (Lantern) Tj ET Q " + later);
  MarksWanted wanted;
  wanted.text = true;
  return marks_of(pdf, wanted).text.reading;
}

}  // namespace

TEST_CASE("text under an opaque shape does not say how the page reads", "[reading]") {
  REQUIRE(read("") == Reading::wrong);
  auto const [name, later] = GENERATE(table<char const*, char const*>({
      {"a white ground", "1 g 90 80 150 60 re f"},
      {"a coloured one", "0.2 0.4 0.9 rg 90 80 150 60 re f"},
      {"a shape that is no rectangle", "0.5 g 160 -100 m 400 110 l 160 320 l -80 110 l f"},
      {"a rectangle turned a little", "0.5 g q 1 0.05 -0.05 1 0 0 cm 80 60 200 80 re f Q"},
      {"a picture", "q 200 0 0 100 80 60 cm /I Do Q"},
      {"a picture turned a little", "q 300 20 -20 200 60 20 cm /I Do Q"},
      {"a gradient that goes on at both ends", "q 90 80 150 60 re W n /On sh Q"},
      {"a ground that a wide enough clip cuts", "q 90 80 150 60 re W n 0.5 g 0 0 600 600 re f Q"},
      {"a ground inside a clip that is no rectangle", "q 160 -100 m 400 110 l 160 320 l -80 110 l W n 0.5 g 0 0 600 600 re f Q"},
  }));
  CAPTURE(name);
  CHECK(read(later) == Reading::unknown);
  // What is written on top of it afterwards counts.
  CHECK(read(std::string(later) + " 0 g BT /F 20 Tf 110 100 Td (Lantern) Tj ET") == Reading::right);
}

TEST_CASE("text that is still seen goes on telling", "[reading]") {
  auto const [name, earlier, later] = GENERATE(table<char const*, char const*, char const*>({
      {"the ground lies beneath", "0.5 g 90 80 150 60 re f 0 g", ""},
      {"a ground that shows it", "", "/Half gs 0.5 g 90 80 150 60 re f"},
      {"a ground that only darkens", "", "/Multiply gs 0.9 g 90 80 150 60 re f"},
      {"half of it is covered", "", "0.5 g 90 80 70 60 re f"},
      {"a shape with a hole", "", "0.5 g 80 60 200 100 re 140 90 20 30 re f*"},
      {"a frame round it", "", "4 w 90 80 150 60 re S"},
      {"a picture that fades", "", "q 200 0 0 100 80 60 cm /M Do Q"},
      {"a gradient that ends", "", "q 90 80 150 60 re W n /Off sh Q"},
      {"a ground that a clip cuts", "", "q 90 80 60 60 re W n 0.5 g 0 0 600 600 re f Q"},
      {"a ground elsewhere", "", "0.5 g 300 300 150 60 re f"},
  }));
  CAPTURE(name);
  CHECK(read(later, earlier) == Reading::wrong);
}

TEST_CASE("an invisible layer beneath its picture still tells", "[reading]") {
  PdfMaker pdf;
  pdf.page().use("Font", "F", pdf.font()).use("XObject", "I", pdf.image_gray(2, 2, {0, 255, 255, 0})).content(
      "q -1 0 0 1 200 100 cm BT 3 Tr /F 20 Tf (Lantern) Tj ET Q q 200 0 0 100 80 60 cm /I Do Q");
  MarksWanted wanted;
  wanted.text = true;
  CHECK(marks_of(pdf, wanted).text.reading == Reading::wrong);
}
