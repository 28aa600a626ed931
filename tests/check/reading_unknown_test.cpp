// reading.unknown: hold, only where the target asks for a reading (DESIGN section 6).
#include "check/reading_test.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("reading.unknown holds only where a reading is asked for and not known") {
  CHECK(reads(Reading::unknown, WantedReading::as_is).silent("reading.unknown"));
  auto const wanted = GENERATE(WantedReading::right, WantedReading::wrong);
  auto const f = reads(Reading::unknown, wanted).finding("reading.unknown");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("--incoming"));
  CHECK(reads(Reading::right, wanted).silent("reading.unknown"));
  CHECK(reads(Reading::wrong, wanted).silent("reading.unknown"));
  CHECK(reads(Reading::mixed, wanted).silent("reading.unknown"));
}

TEST_CASE("reading.unknown is a note where the target takes a reading for granted") {
  auto const f = takes_for_granted(UnknownReads::right, WantedReading::wrong).finding("reading.unknown");
  CHECK(f.level == Level::note);
  CHECK_THAT(f.message, Contains("taken to read right"));
  CHECK(text(f.measured, "reading_from") == "assumed");
  // Where nobody asks, nothing is taken for granted.
  CHECK(takes_for_granted(UnknownReads::right, WantedReading::as_is).reading.from == "none");
}

TEST_CASE("reading.unknown leaves a blank page to ink.blank") {
  auto v = reads(Reading::unknown, WantedReading::wrong);
  v.marks.ink.reset();
  CHECK(v.silent("reading.unknown"));
  v.marks.whole = false;
  CHECK_FALSE(v.silent("reading.unknown"));
  v.with_marks = false;
  CHECK_FALSE(v.silent("reading.unknown"));
}
