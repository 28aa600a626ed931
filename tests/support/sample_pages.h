// One small PDF for each thing that a page can hold and that laying it must bring along. Judged in pictures (tests/pictures), and seeds
// of the fuzzer of the whole check.
#pragma once
#include <string>
#include <vector>

namespace layright::test {

struct SamplePage {
  std::string name;  // also what it is there for: "tiling-pattern"
  std::string bytes;
};

/// Each is one page, at most 400 pt on its longer side as seen, with ink that looks different under each of the eight turns and
/// reversals.
std::vector<SamplePage> sample_pages();

}  // namespace layright::test
