// press.mirror: the press's trial sheet came out reversed, and the file is to carry the one reversal.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("press.mirror holds where file and press would both reverse") {
  PdfMaker pdf;
  pdf.page();
  OpenFile file(pdf.bytes());
  file.target.press.name = "bench";
  file.target.reading = WantedReading::wrong;
  CHECK(file.silent("press.mirror"));  // never tried
  file.target.press.trial = Trial{};
  file.target.press.trial->date = "2026-03-01";
  CHECK(file.silent("press.mirror"));  // tried, and nobody read off how it reads
  file.target.press.trial->reads = Reading::right;
  CHECK(file.silent("press.mirror"));
  file.target.press.trial->reads = Reading::wrong;
  auto const f = file.finding("press.mirror");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("the press bench reversed its trial sheet of 2026-03-01") && Contains("reverse-at = \"printer\""));
  file.target.reading = WantedReading::right;  // the file carries no reversal, and the press would add one
  CHECK_FALSE(file.silent("press.mirror"));
  file.target.reading = WantedReading::as_is;
  CHECK(file.silent("press.mirror"));
  file.target.reading = WantedReading::wrong;
  file.target.reverse_at = ReverseAt::printer;
  CHECK(file.silent("press.mirror"));
}
