// text.reversed: light text on a darker ground under 8 pt as printed (common practice, no published source).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("text.reversed measures the em as printed, however the page is shown") {
  fires_below("text.reversed", 8, [](PdfMaker& pdf, PageMaker& page, double size) {
    page.use("Font", "F", pdf.font()).content("0 g 30 30 300 100 re f 1 g BT /F " + real(size) + " Tf 50 60 Td (Wren) Tj ET");
  });
}

TEST_CASE("text.reversed counts text on pictures, and none on bare or light ground") {
  PdfMaker photo;
  auto const image = photo.image_gray(20, 20, std::vector<std::uint8_t>(400, 40));
  photo.page()
      .use("XObject", "P", image)
      .use("Font", "F", photo.font())
      .content("q 300 0 0 300 30 30 cm /P Do Q 1 g BT /F 7 Tf 50 60 Td (Wren) Tj ET");
  auto const f = ArtPage(photo).finding("text.reversed");
  CHECK(f.level == Level::note);
  CHECK(Rect<SeenSpace>{49, 58, 80, 70}.contains(*f.where));
  PdfMaker bare;
  bare.page()
      .use("Font", "F", bare.font())
      .content("0 g 300 300 90 90 re f 1 g BT /F 7 Tf 50 60 Td (Wren) Tj ET 0.95 g 30 500 300 90 re f 1 g BT /F 7 Tf 50 560 Td (Wren) Tj ET");
  CHECK(ArtPage(bare).silent("text.reversed"));
}
