// reading.mixed: hold, only where the target asks for a reading (DESIGN section 6).
#include "check/reading_test.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("reading.mixed holds only where a reading is asked for") {
  CHECK(reads(Reading::mixed, WantedReading::as_is).silent("reading.mixed"));
  auto v = reads(Reading::mixed, WantedReading::wrong, GENERATE(ReverseAt::file, ReverseAt::printer, ReverseAt::rip));
  CHECK_FALSE(v.finding("reading.mixed").where);
  v.reading.where = {{10, 10, 20, 20}, {50, 5, 60, 20}};
  auto const f = v.finding("reading.mixed");
  CHECK(f.level == Level::hold);
  CHECK(f.where == Rect<SeenSpace>{10, 5, 60, 20});
  for (auto const now : {Reading::right, Reading::wrong, Reading::unknown}) {
    CHECK(reads(now, WantedReading::wrong).silent("reading.mixed"));
  }
}
