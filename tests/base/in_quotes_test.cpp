#include "base/in_quotes.h"

#include <catch2/catch.hpp>
#include <string>

using namespace layright;

TEST_CASE("words of the user fit one line", "[in_quotes]") {
  CHECK(in_quotes("A4") == "\"A4\"");
  CHECK(in_quotes("a\nb\x7F") == "\"a?b?\"");
  CHECK(in_quotes(std::string(60, 'x')) == "\"" + std::string(60, 'x') + "\"");
  CHECK(in_quotes(std::string(61, 'x')) == "\"" + std::string(60, 'x') + "…\"");
  CHECK(in_quotes(std::string(59, 'x') + "éé") == "\"" + std::string(59, 'x') + "…\"");
}
