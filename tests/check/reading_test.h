// What the tests of the reading checks share.
#pragma once
#include "check/decide_reading.h"
#include "check/reading_sentence.h"
#include "check/view.h"

namespace layright::test {

/// A page with ink that reads so, for a target that asks so.
inline View reads(Reading now, WantedReading wanted, ReverseAt at = ReverseAt::file, std::string from = "text") {
  View v;
  v.ink(100, 100, 200, 200);
  v.reading.reading = now;
  v.reading.from = now == Reading::unknown ? "none" : std::move(from);
  v.target.reading = wanted;
  v.target.reverse_at = at;
  return v;
}

/// The same where nothing tells and the target takes a reading for granted.
inline View takes_for_granted(UnknownReads taken, WantedReading wanted) {
  View v = reads(Reading::unknown, wanted);
  v.target.unknown_reads = taken;
  v.reading = decide_reading({}, v.target);
  return v;
}

}  // namespace layright::test
