// Writes all bytes, however many calls that takes.
#pragma once
#include <unistd.h>

#include <cerrno>
#include <string_view>

namespace layright {

/// 0, or the errno of what failed.
inline int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    ssize_t const n = ::write(descriptor, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return n < 0 ? errno : EIO;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  return 0;
}

}  // namespace layright
