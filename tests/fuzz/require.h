// What a fuzz target says when something that must hold does not: it stops, loudly, in both the fuzzer and the replay.
#pragma once
#include <cstdio>
#include <cstdlib>

namespace layright::test {

inline void require(bool holds, char const* what) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %s\n", what);
  std::abort();
}

}  // namespace layright::test
