// Words of the line that says how far long work is; worked out by hand.
#include "base/status_line.h"

#include <catch2/catch.hpp>

using namespace layright;

TEST_CASE("the time that is left is told in the unit that suits", "[status line]") {
  CHECK(span_words(0) == "1 s");
  CHECK(span_words(59.6) == "60 s");
  CHECK(span_words(99) == "99 s");
  CHECK(span_words(100) == "2 min");
  CHECK(span_words(3600) == "60 min");
  CHECK(span_words(7200) == "2 h");
}

TEST_CASE("the line tells files, pages, rate and time left as far as they are known", "[status line]") {
  CHECK(words_of({0, 1, 0, 0, 0}, 3) == "opening the file, 3 s");
  CHECK(words_of({0, 1, 120, 800, 0.15}, 10) == "120 of 800 pages, 12 pages/s, 57 s left");  // 10 s * 0.85 / 0.15
  CHECK(words_of({0, 1, 800, 800, 1}, 70) == "800 of 800 pages, 11 pages/s, finishing");
  CHECK(words_of({3, 12, 31, 0, 0.25}, 5) == "3 of 12 files, 31 pages, 6.2 pages/s, 15 s left");
  CHECK(words_of({0, 12, 0, 0, 0}, 5) == "0 of 12 files, 0 pages");
  CHECK(words_of({1, 12, 4, 0, 0.1}, 1) == "1 of 12 files, 4 pages, 4 pages/s");  // too early to guess
}
