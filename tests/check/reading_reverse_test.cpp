// reading.reverse: the page reads the other way than the file must (DESIGN section 6, rule 5: exactly one party reverses).
#include "check/reading_test.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("reading.reverse over all cases") {
  struct Row {
    Reading now;
    WantedReading wanted;
    ReverseAt at;
    bool fires;
  };
  using R = Reading;
  using W = WantedReading;
  using A = ReverseAt;
  // The file must read as the sheet where nobody reverses later, and the other way where somebody does.
  auto const row = GENERATE(values<Row>({{R::right, W::right, A::file, false},
                                         {R::wrong, W::right, A::file, true},
                                         {R::right, W::wrong, A::file, true},
                                         {R::wrong, W::wrong, A::file, false},
                                         {R::right, W::right, A::printer, true},
                                         {R::wrong, W::right, A::printer, false},
                                         {R::right, W::wrong, A::printer, false},
                                         {R::wrong, W::wrong, A::printer, true},
                                         {R::right, W::right, A::rip, true},
                                         {R::wrong, W::right, A::rip, false},
                                         {R::right, W::wrong, A::rip, false},
                                         {R::wrong, W::wrong, A::rip, true},
                                         {R::right, W::as_is, A::file, false},
                                         {R::wrong, W::as_is, A::printer, false},
                                         {R::mixed, W::wrong, A::file, false},
                                         {R::unknown, W::wrong, A::file, false},
                                         {R::mixed, W::right, A::rip, false},
                                         {R::unknown, W::right, A::printer, false}}));
  auto const v = reads(row.now, row.wanted, row.at);
  CAPTURE(word(row.now), word(row.wanted), word(row.at));
  CHECK(v.silent("reading.reverse") == !row.fires);
  if (!row.fires) return;
  auto const f = v.finding("reading.reverse");
  CHECK(f.level == Level::fix);
  CHECK(f.message == reading_sentence(v.reading, v.target));
  CHECK(text(f.measured, "reading") == word(row.now));
  CHECK(text(f.wanted, "reading") == word(reversed(row.now)));
}

TEST_CASE("reading.reverse goes by what the target takes for granted") {
  CHECK(takes_for_granted(UnknownReads::wrong, WantedReading::wrong).silent("reading.reverse"));
  auto const f = takes_for_granted(UnknownReads::right, WantedReading::wrong).finding("reading.reverse");
  CHECK(text(f.measured, "reading_from") == "assumed");
}
