// text.outlined: words that are paths (common practice, no published source). What was read comes from the reading, here by hand.
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_read_from(std::string const& content, std::string const& from) {
  PdfMaker pdf;
  auto const image = pdf.image_gray(20, 20, std::vector<std::uint8_t>(400, 90));
  pdf.page().use("XObject", "P", image).use("Font", "F", pdf.font()).content(content);
  ArtPage page(pdf);
  page.reading.reading = Reading::right;
  page.reading.from = from;
  page.reading.words = {"Lanternwick", "fog"};
  return page;
}

std::string const kPath = "100 100 40 90 re f ", kPicture = "q 50 0 0 50 300 60 cm /P Do Q ", kText = "BT /F 20 Tf 60 70 Td (Wren) Tj ET ";

}  // namespace

TEST_CASE("text.outlined names the words that were read among a page's paths") {
  auto const f = page_read_from(kPath + kPicture, "letters").finding("text.outlined");
  CHECK(f.level == Level::note);
  CHECK(f.message.find("Lanternwick fog") != std::string::npos);
}

TEST_CASE("text.outlined is silent where there is text, where all is pixels, and where no letters were read") {
  CHECK(page_read_from(kPath + kText, "letters").silent("text.outlined"));
  CHECK(page_read_from(kPicture, "letters").silent("text.outlined"));
  for (char const* from : {"text", "operator", "record", "assumed", "none"}) CHECK(page_read_from(kPath, from).silent("text.outlined"));
}
