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

TEST_CASE("an invisible layer beneath its picture is reported, and decides nothing", "[reading]") {
  PdfMaker pdf;
  pdf.page()
      .use("Font", "F", pdf.font())
      .use("XObject", "I", pdf.image_gray(2, 2, {0, 255, 255, 0}))
      .content("q -1 0 0 1 200 100 cm BT 3 Tr /F 20 Tf (Lantern) Tj ET Q q 200 0 0 100 80 60 cm /I Do Q");
  MarksWanted wanted;
  wanted.text = true;
  auto const text = marks_of(pdf, wanted).text;
  CHECK(text.reading == Reading::unknown);
  CHECK(text.layer == Reading::wrong);
}

namespace {

/// A page that shows a drawing; `operators` may use /F, /I (grey all over), /Faint, /Tiny and /Half.
TextReadingResult reported(std::string const& operators, bool white_prints = false) {
  PdfMaker pdf;
  pdf.page()
      .use("Font", "F", pdf.font())
      .use("XObject", "I", pdf.image_gray(1, 1, {150}))
      .use("ExtGState", "None", "<< /ca 0 >>")
      .use("ExtGState", "Faint", "<< /ca 0.05 >>")
      .use("ExtGState", "Pale", "<< /ca 0.1 >>")
      .use("ExtGState", "Half", "<< /ca 0.5 >>")
      .content("0 g 300 300 40 40 re f " + operators);
  MarksWanted wanted;
  wanted.text = true;
  wanted.white_prints = white_prints;
  return marks_of(pdf, wanted).text;
}

std::string const kWord = "BT /F 20 Tf 100 100 Td (Lantern) Tj ET ", kWords = "BT /F 20 Tf 100 100 Td 7 Tr (Lantern) Tj ET ";

}  // namespace

TEST_CASE("text that nobody sees says nothing", "[reading]") {
  auto const [name, operators] = GENERATE(table<char const*, std::string>({
      {"no opacity", "/None gs " + kWord},
      {"hardly any opacity", "/Faint gs " + kWord},
      {"a tenth of black", "0.9 g " + kWord},
      {"pale, by its opacity", "/Pale gs " + kWord},
      {"white on white", "1 g " + kWord},
      {"nearly white", "0.98 g " + kWord},
      {"a colour on the same colour", "0.2 0.4 0.9 rg 90 80 150 60 re f " + kWord},
      {"the same in other words", "0.5 g 90 80 150 60 re f 0.5 0.5 0.5 rg " + kWord},
      {"on a shape of its colour", "0.5 g 90 80 m 250 80 l 260 150 l 170 170 l 90 150 l f " + kWord},
      {"on a picture of its colour", "q 200 0 0 100 80 60 cm /I Do Q 0.588 g " + kWord},
      {"letters that clip nothing", kWords},
      {"letters that clip white", kWords + "1 g 80 80 200 60 re f"},
      {"covered by strips", kWord + "0.5 g 90 80 40 60 re 130 80 40 60 re 170 80 40 60 re f"},
      {"covered by two halves", kWord + "0.5 g 90 80 45 60 re f 0.6 g 135 80 90 60 re f"},
      {"clipped away", "q 400 400 50 50 re W n " + kWord + "Q"},
      {"all but clipped away", "q 100 100 1 1 re W n " + kWord + "Q"},
      {"clipped by a shape beside it", "q 90 200 m 260 200 l 260 90 l 255 90 l 250 190 l h W n " + kWord + "Q"},
      {"under a point", "BT /F 0.9 Tf 100 100 Td (Lantern) Tj ET"},
      {"its first letter sticks out of a shape of its colour",
       "0.5 g 118 80 m 300 80 l 310 150 l 170 170 l 118 150 l f BT /F 20 Tf 16 Tc 100 100 Td (Rift) Tj ET "},
      {"under a point by the page", "q 0.04 0 0 0.04 0 0 cm BT /F 20 Tf 100 100 Td (Lantern) Tj ET Q"},
  }));
  CAPTURE(name);
  CHECK(reported(operators).reading == Reading::unknown);
}

TEST_CASE("text that is seen tells, however it is painted", "[reading]") {
  auto const [name, operators] = GENERATE(table<char const*, std::string>({
      {"black", kWord},
      {"half opaque", "/Half gs " + kWord},
      {"a light grey", "0.8 g " + kWord},
      {"white on a colour", "0.2 0.4 0.9 rg 90 80 150 60 re f 1 g " + kWord},
      {"black on a picture", "q 200 0 0 100 80 60 cm /I Do Q 0 g " + kWord},
      {"on a shape of another colour", "0.5 g 90 80 m 250 80 l 260 150 l 170 170 l 90 150 l f 0 g " + kWord},
      {"letters that clip a colour", kWords + "0.3 g 80 80 200 60 re f"},
      {"a strip across it", kWord + "0.5 g 90 103 150 1 re f"},
      {"a clip that shows it", "q 90 80 m 260 80 l 260 140 l 90 150 l h W n " + kWord + "Q"},
      {"of two points", "BT /F 2 Tf 100 100 Td (Lantern) Tj ET"},
  }));
  CAPTURE(name);
  CHECK(reported(operators).reading == Reading::right);
}

TEST_CASE("white text is seen where the press lays white", "[reading]") {
  CHECK(reported("1 g " + kWord, true).reading == Reading::right);
  CHECK(reported("1 g 90 80 150 60 re f " + kWord, true).reading == Reading::unknown);
}

TEST_CASE("other marks are told when they could be letters", "[reading]") {
  auto const [name, operators, alone] = GENERATE(table<char const*, std::string, bool>({
      {"text alone", "", true},
      {"a rule, a box and a bullet", "0 0 m 200 0 l S 10 10 100 20 re S 20 200 m 24 200 24 206 20 206 c 16 206 16 200 20 200 c f", true},
      {"a picture", "q 200 0 0 100 80 360 cm /I Do Q", true},  // of one pixel
      {"three shapes in one path", "10 10 m 20 10 20 20 10 20 c h 30 10 m 40 10 40 20 30 20 c h 50 10 m 60 10 60 20 50 20 c h f", false},
      {"three strokes of a pen", "10 10 m 20 10 20 20 10 20 c S 30 10 m 40 10 40 20 30 20 c S 50 10 m 60 10 60 20 50 20 c S", false},
      {"three shapes on nothing that shows", "/None gs 10 10 m 20 10 20 20 10 20 c h 30 10 m 40 10 40 20 30 20 c h 50 10 m 60 10 60 20 50 20 c h f",
       true},
  }));
  CAPTURE(name);
  CHECK(reported(kWord + operators).alone == alone);
}
