// Several files brought to the disk at once: each has an answer of its own, in its place.
#include "write/sync_together.h"

#include <fcntl.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>

#include "base/unique_fd.h"

using namespace layright;

TEST_CASE("of several files each has its own answer", "[write]") {
  UniqueFd const good(::open("/tmp", O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  REQUIRE(good);
  constexpr int kNone = -1;  // no descriptor: fsync(2) says EBADF
  std::size_t const count = GENERATE(0u, 1u, 2u, 7u, 40u);
  std::vector<int> descriptors, expected;
  for (std::size_t i = 0; i < count; ++i) {
    bool const bad = i % 3 == 1;
    descriptors.push_back(bad ? kNone : good.get());
    expected.push_back(bad ? EBADF : 0);
  }
  CHECK(sync_together(descriptors) == expected);
}
