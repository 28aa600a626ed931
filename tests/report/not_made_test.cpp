// What is told of what a module throws: our own words, and never a library's.
#include "report/not_made.h"

#include <catch2/catch.hpp>
#include <new>
#include <stdexcept>
#include <string>

using namespace layright;

namespace {

template <class Thrown>
std::string reported_of(Thrown const& thrown) {
  try {
    throw thrown;
  } catch (...) {
    return why_not_made();
  }
}

}  // namespace

TEST_CASE("why a sheet could not be made is told in our words only", "[not_made]") {
  CHECK(reported_of(NotMade("the font is not installed")) == "the font is not installed");
  CHECK(reported_of(std::bad_alloc()) == "memory ran out");
  std::string const gave_up = "the library that draws it gave up";
  CHECK(reported_of(std::runtime_error("PoDoFo: error 12 in a.cpp")) == gave_up);
  CHECK(reported_of(12) == gave_up);
}
