#include "reading/shared_letters.h"

#include <catch2/catch.hpp>

using namespace layright;

TEST_CASE("the engine is loaded for all once two children have loaded it", "[letters]") {
  SharedLetters letters({"eng"});
  CHECK(letters.engine() == nullptr);
  letters.loaded_by_child();
  CHECK(letters.engine() == nullptr);
  letters.loaded_by_child();
  REQUIRE(letters.engine() != nullptr);
  auto* const loaded = letters.engine();
  CHECK(loaded->ready(0));
  letters.loaded_by_child();
  CHECK(letters.engine() == loaded);
}

TEST_CASE("an engine that cannot be loaded for all is left to the children", "[letters]") {
  SharedLetters letters({"no_such_language"});
  for (int i = 0; i < 3; ++i) letters.loaded_by_child();
  CHECK(letters.engine() == nullptr);
}
