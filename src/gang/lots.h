// Numbers that look as if drawn by lot and are the same each time.
#pragma once
#include <cstddef>
#include <cstdint>

namespace layright {

/// Xorshift (G. Marsaglia, J. Stat. Software 8(14), 2003).
class Lots {
 public:
  /// From 0 to n - 1; n is above 0.
  std::size_t below(std::size_t n) {
    state_ ^= state_ << 13;
    state_ ^= state_ >> 7;
    state_ ^= state_ << 17;
    return static_cast<std::size_t>(state_ % n);
  }

 private:
  std::uint64_t state_ = 88172645463325252u;
};

}  // namespace layright
