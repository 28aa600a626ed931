// A 64-bit hash of values and bytes. Not for secrets: it tells accidents apart, not forgeries.
#pragma once
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <type_traits>

namespace layright {

class Hash64 {
 public:
  template <class T>
  Hash64& add(T const& value) {
    static_assert(std::is_arithmetic_v<T> || std::is_enum_v<T>);
    std::uint64_t word = 0;
    std::memcpy(&word, &value, sizeof value);
    return mix(word);
  }
  Hash64& add_bytes(void const* bytes, std::size_t size) {
    auto const* p = static_cast<unsigned char const*>(bytes);
    mix(size);
    for (; size >= 8; p += 8, size -= 8) {
      std::uint64_t word;
      std::memcpy(&word, p, 8);
      mix(word);
    }
    std::uint64_t word = 0;
    if (size > 0) std::memcpy(&word, p, size);
    return mix(word);
  }
  std::uint64_t value() const {
    std::uint64_t h = state_;
    h ^= h >> 31;
    h *= 0xD6E8FEB86659FD93ULL;
    return h ^ h >> 32;
  }

 private:
  Hash64& mix(std::uint64_t word) {
    state_ = (state_ ^ word) * 0x9E3779B97F4A7C15ULL;  // an odd constant near 2^64 over the golden ratio spreads every bit upwards
    state_ ^= state_ >> 29;
    return *this;
  }
  std::uint64_t state_ = 0x243F6A8885A308D3ULL;  // the fraction of pi
};

}  // namespace layright
