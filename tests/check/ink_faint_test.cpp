// ink.faint: a tint that nobody sees on a screen (common practice, no published source: tints up to 20 % on a quarter of the extents).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

/// /G thins what it is set for, /H ends that.
ArtPage art(std::string const& content, std::string const& thinned = "1") {
  PdfMaker pdf;
  pdf.page().use("ExtGState", "G", "<< /ca " + thinned + " >>").use("ExtGState", "H", "<< /ca 1 >>").content(content);
  return ArtPage(pdf);
}

std::string const kMark = " 0 g 150 150 50 50 re f";

}  // namespace

TEST_CASE("ink.faint tells a tint over the art, in any separation") {
  for (char const* tint : {"0.05 0 0 0 k", "0 0 0.03 0 k", "0.97 g", "1 1 0.95 rg", "0 0.005 0 0 k"}) {
    INFO(tint);
    auto const f = art(tint + std::string(" 0 0 612 792 re f") + kMark).finding("ink.faint");
    CHECK_THAT(f.message, Contains("all of the art") && Contains("box on the goods"));
    CHECK(number(f.measured, "share_pct") > 95);
  }
  CHECK(number(art("0.96 g 0 0 612 792 re f" + kMark).finding("ink.faint").measured, "tint_pct") == Approx(4).margin(0.1));
}

TEST_CASE("ink.faint is silent where there is white, or the tint is strong, small, covered, or too faint for the press") {
  CHECK(art("1 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(art("0.7 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(art("0.997 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(art("0.96 g 0 0 612 792 re f 1 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(art("0.96 g 0 0 612 792 re f 0.2 g 0 0 612 792 re f" + kMark).silent("ink.faint"));
  CHECK(art("0.96 g 100 100 100 100 re f 0 g 20 20 570 5 re 20 760 570 5 re f").silent("ink.faint"));
}

TEST_CASE("ink.faint adds up what lies on each other, and takes other forms than boxes") {
  std::string stack = "/G gs 0 g";
  for (int i = 0; i < 10; ++i) stack += " 20 20 560 750 re f";
  auto const f = art(stack + " /H gs" + kMark, "0.018").finding("ink.faint");
  CHECK(number(f.measured, "tint_pct") == Approx(100 * (1 - std::pow(1 - 0.018, 10))).margin(0.3));  // ISO 32000-1, 11.3.3
  CHECK(art("0.95 g 306 20 m 600 396 l 306 770 l 10 396 l f" + kMark).findings("ink.faint").size() == 1);
  // A tenth of its box is no quarter of the extents.
  CHECK(art("0.95 g 10 10 m 60 10 l 600 780 l 550 780 l f" + kMark).silent("ink.faint"));
}

TEST_CASE("page.ground tells faint grounds and those that let something shine through") {
  CHECK_THAT(art("0.05 0 0 0 k 0 0 612 792 re f" + kMark).finding("page.ground").message, Contains("coloured"));
  CHECK_THAT(art("/G gs 0 g 0 0 612 792 re f" + kMark, "0.2").finding("page.ground").message, Contains("coloured"));
}
