// A large arrival is read piece by piece, and small ones do not wait for it. Digests are judged by sha256sum.
#include "watch/digest_queue.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "support/program.h"

using namespace layright;

namespace {

std::string sha256sum(std::filesystem::path const& file) { return test::shell("sha256sum '" + file.string() + "'").substr(0, 64); }

Arrival arrival(test::Folder const& folder, std::string const& name, std::size_t bytes) {
  std::ofstream(folder / name, std::ios::binary) << std::string(bytes, name[0]);
  auto opened = OpenFolder::open(folder.path());
  REQUIRE(opened.has_value());
  UniqueFd descriptor(open((folder / name).c_str(), O_RDONLY | O_CLOEXEC));
  struct stat about {};
  REQUIRE(fstat(descriptor.get(), &about) == 0);
  return {name, std::move(*opened), std::move(descriptor), mark_of(about)};
}

}  // namespace

TEST_CASE("small arrivals do not wait for the digest of a large one", "[digest_queue]") {
  test::Folder const folder;
  DigestQueue queue(folder.path());
  SteadyTime const early = SteadyTime{} + std::chrono::seconds(5), late = early + std::chrono::seconds(1);
  queue.add(arrival(folder, "large", 50 << 20), early);
  queue.add(arrival(folder, "small", 4000), late);
  queue.add(arrival(folder, "large too", 20 << 20), late);
  CHECK(queue.size() == 3);
  CHECK(queue.oldest() == early);

  auto first = queue.go_on();
  REQUIRE(first.size() == 1);
  CHECK(first[0].arrival.name() == "small");
  REQUIRE(first[0].digest.has_value());
  CHECK(*first[0].digest == sha256sum(folder / "small"));

  std::vector<DigestedArrival> later;
  int turns = 0;
  for (; queue.size() > 0 && turns < 20; ++turns)
    for (auto& each : queue.go_on()) later.push_back(std::move(each));
  CHECK(turns >= 4);
  REQUIRE(later.size() == 2);
  CHECK(later[0].arrival.name() == "large");
  CHECK(*later[0].digest == sha256sum(folder / "large"));
  CHECK(*later[1].digest == sha256sum(folder / "large too"));
  CHECK_FALSE(queue.oldest().has_value());
}

TEST_CASE("an arrival that cannot be read is given back with the error", "[digest_queue]") {
  test::Folder const folder;
  auto opened = OpenFolder::open(folder.path());
  REQUIRE(opened.has_value());
  UniqueFd descriptor(open(folder.path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));  // a folder's bytes cannot be read (EISDIR)
  DigestQueue queue(folder.path());
  queue.add(Arrival("a folder", std::move(*opened), std::move(descriptor), FileMark{}), {});
  auto const given = queue.go_on();
  REQUIRE(given.size() == 1);
  REQUIRE_FALSE(given[0].digest.has_value());
  CHECK(given[0].digest.error().kind == ErrorKind::io);
  CHECK(queue.size() == 0);
}
