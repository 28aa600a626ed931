// reading.conflict: page against record or --incoming, only where the target asks for a reading (DESIGN section 6).
#include "check/reading_test.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("reading.conflict holds a contradiction where a reading is asked for") {
  auto v = reads(Reading::right, WantedReading::wrong, ReverseAt::file, "operator");
  CHECK(v.silent("reading.conflict"));
  v.reading.conflict = "--incoming says right, but the page's text reads wrong";
  auto const f = v.finding("reading.conflict");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("--incoming says right") && Contains("--accept reading.conflict"));
  v.target.reading = WantedReading::as_is;
  CHECK(v.silent("reading.conflict"));
}
