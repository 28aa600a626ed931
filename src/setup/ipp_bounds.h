// How deep and how long an IPP answer may be. libcups takes a collection in a collection by calling itself, until its stack ends.
#pragma once
#include <cstddef>

namespace layright {

/// Counts what libcups' parser (ippReadIO) asks for, piece by piece as it asks, so that both see the same message.
class IppBounds {
 public:
  static constexpr int kDeepest = 16;                             // media-col-database takes 3
  static constexpr std::size_t kLongest = std::size_t{16} << 20;  // bytes; a press with thousands of sizes takes 2 MB

  /// One piece. False: the message goes past a bound, and nothing more of it may be read.
  bool take(unsigned char const* bytes, std::size_t count);
  /// Which bound, in words; null while it keeps them.
  char const* broken() const { return broken_; }

 private:
  int depth_ = 0;
  std::size_t taken_ = 0;
  bool value_next_ = false;  // the piece behind a length
  char const* broken_ = nullptr;
};

}  // namespace layright
