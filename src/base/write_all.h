// Writes all bytes, however many calls that takes.
#pragma once
#include <unistd.h>

#include <cerrno>
#include <cstddef>
#include <span>
#include <string_view>

namespace layright {

/// 0, or the errno of what failed. May be called in a child between fork and its end.
inline int write_all(int descriptor, std::span<std::byte const> bytes) {
  while (!bytes.empty()) {
    ssize_t const n = ::write(descriptor, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return n < 0 ? errno : EIO;
    bytes = bytes.subspan(static_cast<std::size_t>(n));
  }
  return 0;
}
inline int write_all(int descriptor, std::string_view bytes) { return write_all(descriptor, std::as_bytes(std::span(bytes))); }

}  // namespace layright
