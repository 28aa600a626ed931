// Names and texts of others, as they may be shown.
#include <catch2/catch.hpp>

#include "report/report.h"

using namespace layright;

TEST_CASE("what would turn or break the text around it is shown by its bytes") {
  CHECK(shown_name("fox.pdf") == "fox.pdf");
  CHECK(shown_name("F\u00fcchse \u05e9\u05dc\u05d5\u05dd \U0001f98a") ==
        "F\u00fcchse \u05e9\u05dc\u05d5\u05dd \U0001f98a");  // letters of any script stay
  CHECK(shown_name("invoice\u202efdp.exe") == "invoice\\xe2\\x80\\xaefdp.exe");
  for (char const* turning :
       {"\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069", "\u200e", "\u200f", "\u061c", "\u2028", "\u2029"})
    CHECK(shown_name(std::string("a") + turning + "b").find("\\x") == 1);
  CHECK(shown_name("\u0645\u06cc\u200c\u062e") == "\u0645\u06cc\u200c\u062e");  // a joiner belongs to the word
  CHECK(shown_name("a\x1b[31m") == "a\\x1b[31m");
}
