#include "base/unique_fd.h"

#include <fcntl.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <string>
#include <utility>

#include "base/write_all.h"

using namespace layright;

namespace {

bool is_open(int descriptor) { return ::fcntl(descriptor, F_GETFD) >= 0; }
bool goes_to_programs(int descriptor) { return (::fcntl(descriptor, F_GETFD) & FD_CLOEXEC) == 0; }
UniqueFd null_device() { return UniqueFd(::open("/dev/null", O_RDONLY | O_CLOEXEC)); }

}  // namespace

TEST_CASE("a descriptor is closed by its owner, once", "[unique_fd]") {
  int first = -1, second = -1;
  {
    UniqueFd owner = null_device();
    first = owner.get();
    REQUIRE(owner);
    CHECK(is_open(first));
    UniqueFd other = std::move(owner);
    CHECK(other.get() == first);
    CHECK(is_open(first));
    owner = null_device();
    second = owner.get();
    other = std::move(owner);
    CHECK_FALSE(is_open(first));
    CHECK(other.get() == second);
  }
  CHECK_FALSE(is_open(second));
}

TEST_CASE("what is given up stays open", "[unique_fd]") {
  UniqueFd owner = null_device();
  int const descriptor = owner.release();
  CHECK_FALSE(owner);
  CHECK(is_open(descriptor));
  owner.reset(descriptor);
  CHECK(owner.get() == descriptor);
  owner.reset();
  CHECK_FALSE(is_open(descriptor));
  CHECK_FALSE(UniqueFd());
  CHECK_FALSE(UniqueFd(-1));
}

TEST_CASE("moved onto itself, it stays what it is", "[unique_fd]") {
  UniqueFd owner = null_device();
  int const descriptor = owner.get();
  auto& same = owner;
  owner = std::move(same);
  CHECK(owner.get() == descriptor);
  CHECK(is_open(descriptor));
}

TEST_CASE("closing changes no errno", "[unique_fd]") {
  UniqueFd owner(1 << 20);  // no such descriptor: closing it fails
  errno = ENOSPC;
  owner.reset();
  CHECK(errno == ENOSPC);
}

TEST_CASE("duplicates and pipes are kept from programs that are begun", "[unique_fd]") {
  UniqueFd const file = null_device(), other = duplicate(file.get());
  REQUIRE(other);
  CHECK(other.get() != file.get());
  CHECK_FALSE(goes_to_programs(other.get()));
  CHECK_FALSE(duplicate(1 << 20));
  auto pipe = make_pipe();
  REQUIRE(pipe);
  CHECK_FALSE(goes_to_programs(pipe->in.get()));
  CHECK_FALSE(goes_to_programs(pipe->out.get()));
  CHECK(write_all(pipe->in.get(), "through") == 0);
  pipe->in.reset();
  std::string came(16, '\0');
  came.resize(static_cast<std::size_t>(::read(pipe->out.get(), came.data(), came.size())));
  CHECK(came == "through");
  CHECK(::read(pipe->out.get(), came.data(), 1) == 0);  // nobody else has the other end
}

TEST_CASE("all is written, or the reason is reported", "[write_all]") {
  UniqueFd const full(::open("/dev/full", O_WRONLY | O_CLOEXEC));
  CHECK(write_all(full.get(), "one byte is too many") == ENOSPC);
  CHECK(write_all(full.get(), "") == 0);
  CHECK(write_all(-1, "x") == EBADF);
  // A pipe that does not wait takes 64 KiB and then a part of nothing: the error is that it would have had to wait.
  auto const pipe = make_pipe();
  REQUIRE(pipe);
  REQUIRE(::fcntl(pipe->in.get(), F_SETFL, O_NONBLOCK) == 0);
  CHECK(write_all(pipe->in.get(), std::string(std::size_t{1} << 20, 'a')) == EAGAIN);
}
