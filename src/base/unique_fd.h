// The one owner of an open descriptor: nothing else closes any.
#pragma once
#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <optional>
#include <utility>

namespace layright {

class UniqueFd {
 public:
  UniqueFd() = default;
  /// Takes it over; -1, as calls give it that failed, is none.
  explicit UniqueFd(int descriptor) : descriptor_(descriptor) {}
  UniqueFd(UniqueFd&& other) noexcept : descriptor_(std::exchange(other.descriptor_, -1)) {}
  UniqueFd& operator=(UniqueFd&& other) noexcept {
    reset(std::exchange(other.descriptor_, -1));
    return *this;
  }
  ~UniqueFd() { reset(); }

  int get() const { return descriptor_; }
  explicit operator bool() const { return descriptor_ >= 0; }
  /// From now on it is the caller's.
  int release() { return std::exchange(descriptor_, -1); }
  /// Closes it and takes over another. errno stays what it was. May be called between fork and exec.
  void reset(int descriptor = -1) {
    int const error = errno;
    if (descriptor_ >= 0) ::close(descriptor_);
    errno = error;
    descriptor_ = descriptor;
  }

 private:
  int descriptor_ = -1;
};

/// Another one of the same open file, closed in programs that are begun; none, and errno, where that fails.
inline UniqueFd duplicate(int descriptor) { return UniqueFd(::fcntl(descriptor, F_DUPFD_CLOEXEC, 3)); }

struct Pipe {
  UniqueFd out, in;  // what is written into `in` comes out of `out`
};

/// Closed in programs that are begun; nothing, and errno, where none can be made.
inline std::optional<Pipe> make_pipe() {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) return std::nullopt;
  return Pipe{UniqueFd(ends[0]), UniqueFd(ends[1])};
}

}  // namespace layright
